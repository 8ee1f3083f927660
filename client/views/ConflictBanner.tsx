import type { Project } from '../../pattern/exchange/project.ts';
import { rowName } from '../state/differences.ts';
import type { Clash } from '../state/merge.ts';
import { showTime, t } from '../strings/index.ts';
import { useProject, useSession, useStore } from './shared/hooks.ts';
import { Icon } from './shared/Icon.tsx';

/** Clashes named; the rest is counted. */
const MOST_NAMES = 8;

/** Two changed the same project: the maker chooses, nothing is overwritten until then. */
export function ConflictBanner() {
  const session = useSession();
  const conflict = useStore(session.others.conflict);
  const project = useProject();
  if (!conflict) return null;
  const { theirs } = conflict;
  const joined = session.others.joinedFor('mine');
  const clashes = joined === null ? [] : namesOf(joined.clashes, project, theirs.project);
  return (
    <section class="banner conflict" role="alert" aria-label={t.conflict.title}>
      <Icon name="lacking" />
      <div>
        <h2>{t.conflict.title}</h2>
        <p>{t.conflict.text(theirs.project.name, showTime(theirs.updatedAt))}</p>
        {joined !== null && (
          <>
            <p>{t.conflict.joinable}</p>
            <ul class="clashes">
              {clashes.slice(0, MOST_NAMES).map((name) => (
                <li key={name}>{name}</li>
              ))}
              {clashes.length > MOST_NAMES && <li>{t.lacks.more(clashes.length - MOST_NAMES)}</li>}
            </ul>
            <div class="row join-ways">
              <button type="button" class="primary" onClick={() => session.others.keepJoined('mine')}>
                {t.conflict.joinMine}
              </button>
              <button type="button" onClick={() => session.others.keepJoined('theirs')}>
                {t.conflict.joinTheirs}
              </button>
            </div>
          </>
        )}
        <div class="conflict-ways">
          <button
            type="button"
            class={joined === null ? 'primary' : undefined}
            onClick={() => session.attempt(session.others.keepBoth)}
          >
            {t.conflict.keepBoth}
          </button>
          <p class="field-help">{t.conflict.keepBothHelp}</p>
          <button type="button" onClick={session.others.keepTheirs}>
            {t.conflict.takeTheirs}
          </button>
          <p class="field-help">{t.conflict.takeTheirsHelp}</p>
        </div>
      </div>
    </section>
  );
}

/** What clashes, as the maker calls it, each once. */
function namesOf(clashes: readonly Clash[], mine: Project, theirs: Project): string[] {
  return [...new Set(clashes.map((clash) => nameOf(clash, mine, theirs)))];
}

function nameOf({ path, mine: here, theirs: there }: Clash, mine: Project, theirs: Project): string {
  const [list, key] = path;
  const kind = Object.entries(t.versions.kinds).find(([name]) => name === list)?.[1];
  if (kind === undefined || key === undefined) {
    const part = Object.entries(t.versions.rest).find(([name]) => name === list)?.[1];
    return part === undefined ? t.versions.kinds.rest : `${t.versions.kinds.rest}: ${part}`;
  }
  const isRemoved = path.length === 2 && (here === undefined || there === undefined);
  return `${kind}: ${thingName(list!, key, mine, theirs)}${isRemoved ? ` (${t.conflict.removed})` : ''}`;
}

function thingName(list: string, key: string, mine: Project, theirs: Project): string {
  if (list === 'cutList') {
    const [pieceId = '', materialId = ''] = key.split(' ');
    return rowName(mine, pieceId, materialId);
  }
  for (const project of [mine, theirs]) {
    const things = project[list as 'pieces'] as readonly { readonly id: string; readonly name: string }[];
    const found = things.find(({ id }) => id === key);
    if (found) return found.name;
  }
  return key;
}
