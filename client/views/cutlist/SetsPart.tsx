import { setsTimes, totalCopies } from '../../../pattern/cutList/index.ts';
import type { BagSet, Project } from '../../../pattern/exchange/project.ts';
import { CountField } from '../../fields/NumberFields.tsx';
import { NameField } from '../../fields/TextField.tsx';
import { addSet, setSets } from '../../state/cutListCommands.ts';
import { freshId } from '../../state/ids.ts';
import { t } from '../../strings/index.ts';
import { useSession } from '../shared/hooks.ts';
import { Icon } from '../shared/Icon.tsx';
import { HowMany } from './HowMany.tsx';

const MOST_TIMES = 1000;

/** How many of the whole list are laid at once, and in which sizes. */
export function SetsPart({ project }: { readonly project: Project }) {
  const session = useSession();
  const { sets } = project;
  const times = setsTimes(project);
  const write = (next: readonly BagSet[], together?: string): void => session.do(setSets(next, together));
  const change = (id: string, patch: Partial<BagSet>): void =>
    write(
      (sets ?? []).map((set) => (set.id === id ? { ...set, ...patch } : set)),
      `set ${id} ${Object.keys(patch).join()}`,
    );
  const makeTimes = (count: number): void => {
    const first = sets?.[0] ?? {
      id: freshId('set'),
      name: t.cutList.setFirst,
      times: 1,
      alongPercent: 100,
      acrossPercent: 100,
    };
    // One, as drawn, needs no saying.
    write(count <= 1 ? [] : [{ ...first, times: count }], 'sets');
  };
  const isPlain =
    !sets || (sets.length === 1 && sets[0]?.alongPercent === 100 && sets[0].acrossPercent === 100);
  return (
    <section class="panel sets" aria-label={t.cutList.sets}>
      <h3>{t.cutList.sets}</h3>
      <p>{t.cutList.setsLead}</p>
      {isPlain ? (
        <CountField
          label={t.cutList.setsTimes}
          count={times}
          most={MOST_TIMES}
          onChange={(count) => makeTimes(Math.max(1, count))}
        />
      ) : (
        <ul class="set-list" aria-label={t.cutList.setsSizes}>
          {sets.map((set) => (
            <li key={set.id}>
              <fieldset>
                <legend class="sr">{set.name}</legend>
                <div class="set-name">
                  <NameField
                    label={t.cutList.setName}
                    value={set.name}
                    onChange={(name) => change(set.id, { name })}
                  />
                  <button
                    type="button"
                    class="quiet"
                    aria-label={t.cutList.setRemove(set.name)}
                    onClick={() => write(sets.filter(({ id }) => id !== set.id))}
                  >
                    <Icon name="close" />
                  </button>
                </div>
                <div class="row">
                  <CountField
                    label={t.cutList.setsTimes}
                    count={set.times}
                    most={MOST_TIMES}
                    onChange={(count) => change(set.id, { times: Math.max(1, count) })}
                  />
                  <CountField
                    label={t.cutList.setAlong}
                    count={set.alongPercent}
                    most={1000}
                    onChange={(percent) => change(set.id, { alongPercent: Math.max(1, percent) })}
                  />
                  <CountField
                    label={t.cutList.setAcross}
                    count={set.acrossPercent}
                    most={1000}
                    onChange={(percent) => change(set.id, { acrossPercent: Math.max(1, percent) })}
                  />
                </div>
              </fieldset>
            </li>
          ))}
        </ul>
      )}
      {!isPlain && <p class="field-help">{t.cutList.setsHelp}</p>}
      <div class="row">
        <button
          type="button"
          onClick={() =>
            session.do(addSet(project, t.cutList.setNext((sets?.length ?? 1) + 1), t.cutList.setFirst))
          }
        >
          <Icon name="plus" />
          {t.cutList.setAdd}
        </button>
        {times > 1 && <span role="status">{t.cutList.forAll(times, totalCopies(project))}</span>}
      </div>
      <HowMany project={project} />
    </section>
  );
}
