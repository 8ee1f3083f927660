import { useEffect, useState } from 'preact/hooks';
import type { Material, Project } from '../../../pattern/exchange/project.ts';
import type { ShelfEntry } from '../../../pattern/exchange/shelf.ts';
import { searchShelf } from '../../../pattern/shelf/search.ts';
import { Tick } from '../../fields/Choice.tsx';
import { TextField } from '../../fields/TextField.tsx';
import { addCloth } from '../../state/clothCommands.ts';
import { freshId } from '../../state/ids.ts';
import { showMoney, t } from '../../strings/index.ts';
import { ClothThumb, clothInWords } from '../cloths/ClothsStep.tsx';
import { Dialog } from '../shared/Dialog.tsx';
import { useSession, useStore } from '../shared/hooks.ts';
import { Icon } from '../shared/Icon.tsx';
import { KeptPlan } from './KeptPlan.tsx';
import { ShelfForm } from './ShelfForm.tsx';
import { ShelfNews } from './ShelfNews.tsx';
import { shelfHere } from './shelfHere.ts';

interface ShelfDialogProps {
  readonly project: Project;
  /** Cloth is taken for this material; null: just looked through. */
  readonly material: Material | null;
  readonly onClose: () => void;
}

/** Everything on the shelf, to be searched, taken, added to and put in order. */
export function ShelfDialog({ project, material, onClose }: ShelfDialogProps) {
  const entries = useStore(shelfHere.entries);
  const [query, setQuery] = useState('');
  const [showsGone, setShowsGone] = useState(false);
  /** The entry that is being changed, or a new one. */
  const [form, setForm] = useState<ShelfEntry | 'new' | null>(null);
  useEffect(() => void shelfHere.read(), []);
  const there = (entries ?? []).filter(({ state }) => showsGone || state.kind !== 'taken');
  const shown = searchShelf(there, query);
  return (
    <Dialog title={material ? t.shelf.fromFor(material.name) : t.shelf.title} onClose={onClose} wide>
      <div class="shelf">
        <p class="field-help">{t.shelf.lead}</p>
        <ShelfNews />
        {form === null ? (
          <div class="buttons">
            <button type="button" onClick={() => setForm('new')}>
              <Icon name="plus" />
              {t.shelf.add}
            </button>
          </div>
        ) : (
          <ShelfForm
            key={form === 'new' ? 'new' : form.id}
            project={project}
            entry={form === 'new' ? null : form}
            onDone={() => setForm(null)}
          />
        )}
        {entries !== null && entries.length > 0 && (
          <div class="row">
            <TextField label={t.shelf.search} help={t.shelf.searchHelp} value={query} onChange={setQuery} />
            <Tick label={t.shelf.showGone} on={showsGone} onChange={setShowsGone} />
          </div>
        )}
        <p class="faint" role="status">
          {entries === null
            ? t.shelf.loading
            : entries.length === 0
              ? t.shelf.empty
              : shown.length === 0
                ? t.shelf.nothingFound
                : t.shelf.count(shown.length, entries.length)}
        </p>
        <ul class="cards">
          {shown.map((entry) => (
            <li key={entry.id}>
              <EntryCard project={project} material={material} entry={entry} onEdit={() => setForm(entry)} />
            </li>
          ))}
        </ul>
      </div>
    </Dialog>
  );
}

interface EntryCardProps {
  readonly project: Project;
  readonly material: Material | null;
  readonly entry: ShelfEntry;
  readonly onEdit: () => void;
}

function EntryCard({ project, material, entry, onEdit }: EntryCardProps) {
  const session = useSession();
  const { cloth, state } = entry;
  const isHere = project.cloths.some(({ shelfId }) => shelfId === entry.id);
  const facts = [
    entry.fibre,
    clothInWords(cloth, project.units),
    entry.weighed ? t.shelf.about : '',
    entry.place === '' ? '' : t.shelf.place(entry.place),
    entry.valueCents === null ? '' : t.shelf.worth(showMoney(entry.valueCents)),
    entry.leftFrom === undefined ? '' : t.shelf.leftFrom(entry.leftFrom),
  ].filter((fact) => fact !== '');
  const change = (kind: 'release' | 'remove', said: string): Promise<boolean> =>
    shelfHere.do({ kind, ids: [entry.id] }, said);
  const take = async (to: Material): Promise<void> => {
    const { projectId } = session;
    const done = await shelfHere.do(
      { kind: 'reserve', ids: [entry.id], projectId, projectName: project.name },
      t.shelf.taken(cloth.name, to.name),
    );
    if (done) session.do(addCloth({ ...cloth, id: freshId('cloth'), materialId: to.id, shelfId: entry.id }));
  };
  const isMine = state.kind === 'reserved' && state.projectId === session.projectId;
  return (
    <article class="card shelf-card" aria-label={cloth.name}>
      {entry.picture === null ? (
        <ClothThumb cloth={cloth} />
      ) : (
        <img class="shelf-picture" src={entry.picture} alt={t.shelf.pictureOf(cloth.name)} />
      )}
      <div class="card-text">
        <span class="card-name">{cloth.name}</span>
        <span class="card-fact">{facts.join(' · ')}</span>
        {state.kind !== 'free' && (
          <span class="tag warn">{t.shelf.states[state.kind](state.projectName)}</span>
        )}
        {isHere && <span class="tag">{t.shelf.isHere}</span>}
        <KeptPlan entry={entry} units={project.units} />
      </div>
      <div class="buttons">
        {material && !isHere && (state.kind === 'free' || isMine) && (
          <button
            type="button"
            class="primary"
            aria-label={t.shelf.take(cloth.name, material.name)}
            onClick={() => void take(material)}
          >
            {t.shelf.takeShort}
          </button>
        )}
        {state.kind !== 'free' && (
          <button
            type="button"
            aria-label={
              state.kind === 'taken' ? t.shelf.putBackOf(cloth.name) : t.shelf.releaseOf(cloth.name)
            }
            onClick={() => void change('release', t.shelf.released(cloth.name))}
          >
            {state.kind === 'taken' ? t.shelf.putBackShort : t.shelf.release}
          </button>
        )}
        <button type="button" class="quiet" aria-label={t.shelf.editOf(cloth.name)} onClick={onEdit}>
          {t.shelf.edit}
        </button>
        <button
          type="button"
          class="quiet"
          aria-label={t.shelf.removeOf(cloth.name)}
          onClick={() => void change('remove', t.shelf.removed(cloth.name))}
        >
          {t.shelf.remove}
        </button>
      </div>
    </article>
  );
}
