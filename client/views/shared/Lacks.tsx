import type { Lack } from '../../state/lacks.ts';
import { t } from '../../strings/index.ts';
import { useAddress, useBench, useStore } from './hooks.ts';
import { Icon } from './Icon.tsx';
import { lackInWords } from './words.ts';

/** More than so many lines are folded away. */
const MOST_SHOWN = 5;

/** What a step still lacks, each line leading to where it can be settled. */
export function Lacks({ lacks }: { readonly lacks: readonly Lack[] }) {
  if (lacks.length === 0) return null;
  const more = lacks.slice(MOST_SHOWN);
  return (
    <section class="lacks" aria-label={t.lacks.title}>
      <h3>
        <Icon name="lacking" />
        {t.lacks.title}
      </h3>
      <LackList lacks={lacks.slice(0, MOST_SHOWN)} />
      {more.length > 0 && (
        <details class="help">
          <summary>{t.lacks.more(more.length)}</summary>
          <LackList lacks={more} />
        </details>
      )}
    </section>
  );
}

function LackList({ lacks }: { readonly lacks: readonly Lack[] }) {
  const address = useAddress();
  const here = useStore(useBench().route).step;
  return (
    <ul>
      {lacks.map((lack) => {
        const text = lackInWords(lack);
        const { step, open, at } = lack.goTo;
        return (
          <li key={text}>
            <span>{text}</span>
            <a class="go" href={address(step, open, at)}>
              {open === null && step !== here ? t.lacks.goToStep(t.steps.name[step]) : t.lacks.goTo}
            </a>
          </li>
        );
      })}
    </ul>
  );
}
