import { useLayoutEffect, useMemo, useState } from 'preact/hooks';
import { copiesOf, sizeHints } from '../../../pattern/cutList/index.ts';
import type { Material, Piece, Project } from '../../../pattern/exchange/project.ts';
import { Select } from '../../fields/Choice.tsx';
import { addMaterial, setCount } from '../../state/cutListCommands.ts';
import { lacksOf } from '../../state/lacks.ts';
import { Store } from '../../state/store.ts';
import { language, t } from '../../strings/index.ts';
import { sizeInWords } from '../pieces/PieceList.tsx';
import { PieceThumb } from '../pieces/PieceThumb.tsx';
import { CureLink } from '../shared/CureLink.tsx';
import { EmptyState } from '../shared/EmptyState.tsx';
import { Help } from '../shared/Help.tsx';
import { useAddress, useBench, useProject, useSession, useStore, useWide } from '../shared/hooks.ts';
import { Icon } from '../shared/Icon.tsx';
import { Lacks } from '../shared/Lacks.tsx';
import { Cell } from './Cell.tsx';
import { MaterialPanel } from './MaterialPanel.tsx';
import { noHandsIn } from './noHands.ts';
import { SetsPart } from './SetsPart.tsx';

export function CutListStep() {
  const project = useProject();
  const address = useAddress();
  const isWide = useWide();
  return (
    <div class="step-body">
      <header class="step-head">
        <h2>{t.cutList.title}</h2>
        <p class="lead">{t.cutList.lead}</p>
      </header>
      {project.pieces.length === 0 ? (
        <EmptyState step="cutlist">
          <a class="button" href={address('pieces', null, 'ways')}>
            {t.cutList.toPieces}
          </a>
        </EmptyState>
      ) : (
        <>
          <Lacks lacks={lacksOf(project).cutlist} />
          {project.materials.length === 0 && (
            <div data-spot="counts">
              <AddMaterial />
            </div>
          )}
          <Help title={t.cutList.handsHelpTitle}>
            <HandsPicture />
            <ul>
              {t.cutList.handsHelp.map((line) => (
                <li key={line}>{line}</li>
              ))}
            </ul>
          </Help>
          <Hints project={project} />
          <OpenMaterial project={project} />
          <div data-spot={project.materials.length > 0 ? 'counts' : undefined}>
            {isWide ? <CutTable project={project} /> : <CutCards project={project} />}
          </div>
          {project.materials.length > 0 && <AddMaterial />}
          {project.cutList.length > 0 && <SetsPart project={project} />}
        </>
      )}
    </div>
  );
}

/** What may be meant or may be a slip: sizes and allowances side by side. */
function Hints({ project }: { readonly project: Project }) {
  const hints = useMemo(() => sizeHints(project, language), [project.pieces, project.cutList, project.units]);
  if (hints.length === 0) return null;
  return (
    <Help title={t.cutList.hints(hints.length)}>
      <ul>
        {hints.map((hint) => (
          <li key={hint.text}>
            {hint.text} <CureLink notice={hint} />
          </li>
        ))}
      </ul>
    </Help>
  );
}

/** As drawn, mirrored, on the fold: three small pictures of one piece. */
function HandsPicture() {
  const shape = 'M0 0H20V8L12 24H0Z';
  return (
    <svg class="hands-picture" viewBox="0 0 250 60" aria-hidden="true" focusable="false">
      <g transform="translate(20 12)">
        <path class="hand-plain" d={shape} />
        <text x="10" y="42">
          {t.cutList.plain}
        </text>
      </g>
      <g transform="translate(110 12)">
        <path class="hand-mirrored" d={shape} transform="translate(20 0) scale(-1 1)" />
        <text x="10" y="42">
          {t.cutList.mirrored}
        </text>
      </g>
      <g transform="translate(205 12)">
        <path class="hand-fold" d={shape} />
        <path class="hand-ghost" d={shape} transform="scale(-1 1)" />
        <path class="hand-fold-line" d="M0 -4V28" />
        <text x="0" y="42">
          {t.cutList.onFold}
        </text>
      </g>
    </svg>
  );
}

/** The whole list as a table: a piece a row, a material a column. */
function CutTable({ project }: { readonly project: Project }) {
  return (
    <div class="table-scroll">
      <table class="cut-table" aria-label={t.cutList.title}>
        <thead>
          <tr>
            <th scope="col">{t.cutList.piece}</th>
            {project.materials.map((material) => (
              <th key={material.id} scope="col">
                <MaterialHead material={material} />
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {project.pieces.map((piece) => (
            <PieceRow key={piece.id} project={project} piece={piece} />
          ))}
        </tbody>
        {project.materials.length > 0 && (
          <tfoot>
            <tr>
              <th scope="row">{t.cutList.totals}</th>
              {project.materials.map((material) => (
                <td key={material.id}>
                  <Totals project={project} material={material} />
                </td>
              ))}
            </tr>
          </tfoot>
        )}
      </table>
    </div>
  );
}

function useIsOpen(piece: Piece): boolean {
  return useStore(useBench().route).open === piece.id;
}

function PieceRow({ project, piece }: { readonly project: Project; readonly piece: Piece }) {
  const isOpen = useIsOpen(piece);
  return (
    <tr class={isOpen ? 'pointed' : undefined} data-spot={isOpen ? 'row' : undefined}>
      <th scope="row">
        <PieceHead project={project} piece={piece} />
      </th>
      {project.materials.map((material) => (
        <td key={material.id}>
          <Cell project={project} piece={piece} material={material} />
        </td>
      ))}
    </tr>
  );
}

function PieceHead({ project, piece }: { readonly project: Project; readonly piece: Piece }) {
  const address = useAddress();
  const copies = project.cutList
    .filter((row) => row.pieceId === piece.id)
    .reduce((sum, row) => sum + copiesOf(row), 0);
  return (
    <span class="piece-head">
      <PieceThumb piece={piece} />
      <span>
        <a href={address('pieces', piece.id)}>{piece.name}</a>
        <span class="card-fact">{sizeInWords(piece, project.units)}</span>
        {piece.foldEdge !== null && <span class="card-fact faint">{t.cutList.half}</span>}
        {project.materials.length > 1 && copies > 0 && (
          <span class="card-fact">{t.cutList.inAll(copies)}</span>
        )}
      </span>
    </span>
  );
}

/** Name of a material with what it is for; opens all that can be said of it. */
function MaterialHead({ material }: { readonly material: Material }) {
  const open = useStore(openMaterial);
  const isOpen = open === material.id;
  return (
    <div class="material-head">
      <button
        type="button"
        class="quiet name"
        aria-expanded={isOpen}
        onClick={() => openMaterial.set(isOpen ? null : material.id)}
      >
        {material.name}
        <Icon name="more" />
      </button>
      <span class="faint">{t.cutList.roles[material.role]}</span>
    </div>
  );
}

/** Begins the name of the place where a material says how pieces are cut from it. */
const SIZING = 'sizing-';

/** The material whose settings are shown. */
const openMaterial = new Store<string | null>(null);

function OpenMaterial({ project }: { readonly project: Project }) {
  const open = useStore(openMaterial);
  const { at } = useStore(useBench().route);
  const pointed = at?.startsWith(SIZING) ? at.slice(SIZING.length) : null;
  useLayoutEffect(() => {
    if (pointed !== null) openMaterial.set(pointed);
  }, [pointed]);
  const material = project.materials.find(({ id }) => id === open);
  if (!material) return null;
  return (
    <MaterialPanel
      key={material.id}
      project={project}
      material={material}
      onClose={() => openMaterial.set(null)}
    />
  );
}

/** What is to be cut from a material altogether, by hand. */
function Totals({ project, material }: { readonly project: Project; readonly material: Material }) {
  const pieces = new Map(project.pieces.map((piece) => [piece.id, piece]));
  let plain = 0;
  let mirrored = 0;
  let onFold = 0;
  let either = 0;
  for (const row of project.cutList) {
    const piece = pieces.get(row.pieceId);
    if (row.materialId !== material.id || !piece) continue;
    onFold += row.onFold;
    if (noHandsIn(project, piece, material.id)) either += row.plain + row.mirrored;
    else {
      plain += row.plain;
      mirrored += row.mirrored;
    }
  }
  return (
    <div class="totals">
      <strong>{t.cutList.totalPieces(plain + mirrored + onFold + either)}</strong>
      <span class="faint">{t.cutList.totalHands(plain, mirrored, onFold, either)}</span>
    </div>
  );
}

/** The list for narrow screens: a card a piece, its materials below each other. */
function CutCards({ project }: { readonly project: Project }) {
  return (
    <>
      <ul class="cut-cards">
        {project.pieces.map((piece) => (
          <CutCard key={piece.id} project={project} piece={piece} />
        ))}
      </ul>
      {project.materials.length > 0 && (
        <section class="panel" aria-label={t.cutList.totals}>
          <h3>{t.cutList.totals}</h3>
          {project.materials.map((material) => (
            <div key={material.id} class="cut-card-cell">
              <MaterialHead material={material} />
              <Totals project={project} material={material} />
            </div>
          ))}
        </section>
      )}
    </>
  );
}

function CutCard({ project, piece }: { readonly project: Project; readonly piece: Piece }) {
  const session = useSession();
  const isOpen = useIsOpen(piece);
  const isCut = (material: Material): boolean =>
    project.cutList.some(
      (row) => row.pieceId === piece.id && row.materialId === material.id && copiesOf(row) > 0,
    );
  const others = project.materials.filter((material) => !isCut(material));
  return (
    <li class={isOpen ? 'panel pointed' : 'panel'} data-spot={isOpen ? 'row' : undefined}>
      <PieceHead project={project} piece={piece} />
      {project.materials.filter(isCut).map((material) => (
        <div key={material.id} class="cut-card-cell">
          <span class="cut-card-material">{material.name}</span>
          <Cell project={project} piece={piece} material={material} />
        </div>
      ))}
      {others.length > 0 && (
        <Select
          class="start-from"
          label={t.cutList.startFromOf(piece.name)}
          hideLabel
          value=""
          options={[
            { value: '', label: t.cutList.startFrom },
            ...others.map((material) => ({ value: material.id, label: material.name })),
          ]}
          onChange={(materialId) => {
            if (materialId === '') return;
            session.do(
              setCount(project, piece.id, materialId, piece.foldEdge === null ? 'plain' : 'onFold', 1),
            );
          }}
        />
      )}
    </li>
  );
}

function AddMaterial() {
  const session = useSession();
  const { materials } = useProject();
  const [name, setName] = useState('');
  const trimmed = name.trim();
  const isKnown = materials.some((entry) => entry.name.toLowerCase() === trimmed.toLowerCase());
  const add = (): void => {
    if (trimmed === '' || isKnown) return;
    session.do(addMaterial(trimmed));
    setName('');
  };
  return (
    <form
      class="row add-material"
      onSubmit={(event) => {
        event.preventDefault();
        add();
      }}
    >
      <label class="field">
        <span>{t.cutList.materialName}</span>
        <input
          type="text"
          value={name}
          maxLength={200}
          autocomplete="off"
          placeholder={t.cutList.materialPlaceholder}
          onInput={(event) => setName(event.currentTarget.value)}
        />
      </label>
      <button type="submit" disabled={trimmed === '' || isKnown}>
        <Icon name="plus" />
        {t.cutList.addMaterial}
      </button>
    </form>
  );
}
