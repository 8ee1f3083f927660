import type { CutRow, Joins, Material, Piece, Project } from '../../../pattern/exchange/project.ts';
import { Choice, Select, Tick } from '../../fields/Choice.tsx';
import { CountField, LengthField } from '../../fields/NumberFields.tsx';
import { holdBack, setElsewhere, setJoins } from '../../state/cutListCommands.ts';
import { t } from '../../strings/index.ts';
import { useBench, useSession, useStore } from '../shared/hooks.ts';
import { Icon } from '../shared/Icon.tsx';

const USUAL_JOIN_MM = { cm: 10, mm: 10, in: 6.35 } as const;
const MOST_JOINS = 20;

interface CellMoreProps {
  readonly project: Project;
  readonly piece: Piece;
  readonly material: Material;
  readonly row: CutRow;
}

/** What is said of a cell beside its counts: cut later, from elsewhere, joined. */
export function CellMore({ project, piece, material, row }: CellMoreProps) {
  const session = useSession();
  const isOpen = useStore(useBench().route).open === piece.id;
  return (
    <details class="cell-more" data-spot={isOpen ? 'more' : undefined}>
      <summary
        aria-label={t.cutList.more(piece.name, material.name)}
        title={t.cutList.more(piece.name, material.name)}
      >
        <Icon name="more" />
      </summary>
      <div class="cell-more-body">
        <Tick
          label={t.cutList.heldBack}
          help={t.cutList.heldBackHelp}
          on={row.heldBack === true}
          onChange={(isOn) => session.do(holdBack(project, piece.id, material.id, isOn))}
        />
        <Elsewhere project={project} piece={piece} material={material} row={row} />
        {(piece.foldEdge === null || row.onFold > 0) && (
          <JoinsPart project={project} piece={piece} material={material} row={row} />
        )}
      </div>
    </details>
  );
}

/** What of it is in force, in short, under the counts. */
export function CellNotes({ project, row }: { readonly project: Project; readonly row: CutRow }) {
  const nameOf = (id: string): string => project.materials.find((material) => material.id === id)?.name ?? '';
  const notes = [
    row.heldBack ? t.cutList.held : '',
    row.elsewhere ? t.cutList.elsewhereNote(row.elsewhere.map(nameOf).join(', ')) : '',
    row.joins ? t.cutList.joinsNote(row.joins.most) : '',
  ].filter((note) => note !== '');
  return notes.length === 0 ? null : <span class="card-fact">{notes.join(' · ')}</span>;
}

function Elsewhere({ project, piece, material, row }: CellMoreProps) {
  const session = useSession();
  const chosen = row.elsewhere ?? [];
  const open = project.materials.filter(({ id }) => id !== material.id && !chosen.includes(id));
  const write = (ids: readonly string[]): void =>
    session.do(setElsewhere(project, piece.id, material.id, ids));
  if (project.materials.length < 2) return null;
  return (
    <fieldset>
      <legend>{t.cutList.elsewhere}</legend>
      {chosen.length > 0 && (
        <ol class="elsewhere">
          {chosen.map((id) => {
            const name = project.materials.find((entry) => entry.id === id)?.name ?? '';
            return (
              <li key={id}>
                {name}{' '}
                <button
                  type="button"
                  class="quiet small"
                  aria-label={t.cutList.elsewhereRemove(name)}
                  onClick={() => write(chosen.filter((other) => other !== id))}
                >
                  <Icon name="close" />
                </button>
              </li>
            );
          })}
        </ol>
      )}
      {open.length > 0 && (
        <Select
          label={t.cutList.elsewhereAddOf(piece.name, material.name)}
          hideLabel
          value=""
          options={[
            { value: '', label: t.cutList.elsewhereAdd },
            ...open.map(({ id, name }) => ({ value: id, label: name })),
          ]}
          onChange={(id) => {
            if (id !== '') write([...chosen, id]);
          }}
        />
      )}
      <p class="field-help">{t.cutList.elsewhereHelp}</p>
    </fieldset>
  );
}

function JoinsPart({ project, piece, material, row }: CellMoreProps) {
  const session = useSession();
  const { joins } = row;
  const write = (next: Joins | null): void => session.do(setJoins(project, piece.id, material.id, next));
  // A half is joined to its other half, and nowhere else. Hidden layers are butted edge to edge.
  const isHalf = piece.foldEdge !== null;
  const isButted = material.role === 'interfacing' || material.role === 'foam';
  const first: Joins = {
    most: 1,
    allowanceMm: isButted ? 0 : USUAL_JOIN_MM[project.units],
    slant: 'straight',
    wholeMiddleMm: 0,
  };
  return (
    <fieldset>
      <legend class="sr">{t.cutList.joins}</legend>
      <Tick
        label={isHalf ? t.cutList.joinsHalf : t.cutList.joins}
        on={joins !== undefined}
        onChange={(isOn) => write(isOn ? first : null)}
      />
      {joins && (
        <>
          {!isHalf && (
            <CountField
              label={t.cutList.joinsMost}
              count={joins.most}
              most={MOST_JOINS}
              onChange={(most) => write({ ...joins, most: Math.max(1, most) })}
            />
          )}
          <LengthField
            label={t.cutList.joinsAllowance}
            mm={joins.allowanceMm}
            allowZero
            onChange={(allowanceMm) => write({ ...joins, allowanceMm })}
          />
          {joins.allowanceMm === 0 && <p class="field-help">{t.cutList.joinsButted}</p>}
          {!isHalf && <WhereJoined joins={joins} write={write} />}
        </>
      )}
    </fieldset>
  );
}

/** How the joins of a piece run, what they divide, and where none may be. */
function WhereJoined({ joins, write }: { readonly joins: Joins; readonly write: (next: Joins) => void }) {
  const { divides = 'length', ...rest } = joins;
  return (
    <>
      <Choice
        label={t.cutList.joinsDivide}
        value={divides}
        options={(['length', 'width'] as const).map((value) => ({
          value,
          label: t.cutList.joinsDivides[value],
        }))}
        onChange={(value) => write(value === 'length' ? rest : { ...rest, divides: value })}
      />
      <Choice
        label={t.cutList.joinsSlant}
        value={joins.slant}
        options={(['straight', 'diagonal'] as const).map((value) => ({
          value,
          label: t.cutList.joinsSlants[value],
        }))}
        onChange={(slant) => write({ ...joins, slant })}
      />
      <LengthField
        label={t.cutList.joinsNot}
        mm={joins.wholeMiddleMm}
        allowZero
        onChange={(wholeMiddleMm) => write({ ...joins, wholeMiddleMm })}
      />
      <p class="field-help">{t.cutList.joinsNotHelp}</p>
    </>
  );
}
