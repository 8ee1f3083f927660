import { useState } from 'preact/hooks';
import { copiesOf } from '../../../pattern/cutList/index.ts';
import type { Material, Piece, Project } from '../../../pattern/exchange/project.ts';
import { MOST_SIZES, type SetsVary } from '../../../pattern/exchange/setsQuestion.ts';
import { projectWithSets } from '../../../pattern/lay/sets/projectWithSets.ts';
import { variableSizes } from '../../../pattern/lay/sets/varySize.ts';
import { Select, Tick } from '../../fields/Choice.tsx';
import { LengthField } from '../../fields/NumberFields.tsx';
import { takeSets } from '../../state/cutListCommands.ts';
import { choiceFor } from '../../state/layChoice.ts';
import type { SetsAsked, SetsRunState } from '../../state/setsRun.ts';
import { t } from '../../strings/index.ts';
import { formatLength } from '../../strings/lengths.ts';
import { measureName } from '../pieces/ShapeFields.tsx';
import { LayPicture } from '../plan/LayPicture.tsx';
import { CureLink } from '../shared/CureLink.tsx';
import { useAddress, useSession, useStore } from '../shared/hooks.ts';
import { Icon } from '../shared/Icon.tsx';

/** Each question anew begins elsewhere, so that asking again may find more. */
let seed = 1;

/** "How many does this cloth give?", with a size that may vary. */
export function HowMany({ project }: { readonly project: Project }) {
  const session = useSession();
  const address = useAddress();
  const run = useStore(session.sets.state);
  const materials = project.materials.filter((material) => hasEnd(project, material));
  const [chosen, setChosen] = useState('');
  const [vary, setVary] = useState<SetsVary | null>(null);
  const material = materials.find(({ id }) => id === chosen) ?? materials[0];
  if (!material) {
    return (
      <p class="field-help">
        {t.cutList.howManyNeeds} <a href={address('cloths')}>{t.cutList.howManyToCloths}</a>
      </p>
    );
  }
  const pieces = measuredIn(project, material);
  const own = vary && pieces.some(({ id }) => vary.pieceIds.includes(id)) ? vary : null;
  const fault = own ? faultOf(own) : null;
  const ask = (): void => {
    const asked: SetsAsked = { project, materialId: material.id, vary: own };
    session.attempt(() => session.sets.ask(asked, choiceFor(project, material.id), seed++));
  };
  return (
    <section class="how-many" aria-label={t.cutList.howMany}>
      <h4>{t.cutList.howMany}</h4>
      <div class="row">
        <Select
          label={t.cutList.howManyOf}
          value={material.id}
          options={materials.map(({ id, name }) => ({ value: id, label: name }))}
          onChange={setChosen}
        />
        {run.kind === 'running' ? (
          <button type="button" onClick={() => session.attempt(() => session.sets.stop())}>
            <Icon name="stop" />
            {t.cutList.howManyStop}
          </button>
        ) : (
          <button type="button" class="primary" disabled={fault !== null} onClick={ask}>
            {t.cutList.howManyAsk}
          </button>
        )}
      </div>
      {pieces.length > 0 && (
        <Tick
          label={t.cutList.vary}
          on={own !== null}
          onChange={(isOn) => setVary(isOn ? firstVary(pieces, project.units) : null)}
        />
      )}
      {own && <VaryFields pieces={pieces} units={project.units} vary={own} onChange={setVary} />}
      {fault !== null && (
        <p class="field-fault" role="alert">
          {fault}
        </p>
      )}
      <Answer run={run} project={project} />
    </section>
  );
}

/** Whether some cloth of the material ends somewhere, and something is cut from it. */
function hasEnd(project: Project, { id }: Material): boolean {
  const isCut = project.cutList.some((row) => row.materialId === id && copiesOf(row) > 0);
  return (
    isCut &&
    project.cloths.some(
      (cloth) => cloth.materialId === id && (cloth.kind === 'remnant' || cloth.availableMm !== null),
    )
  );
}

function measuredIn(project: Project, { id }: Material): Piece[] {
  return project.pieces.filter(
    (piece) =>
      variableSizes(piece).length > 0 &&
      project.cutList.some((row) => row.pieceId === piece.id && row.materialId === id && copiesOf(row) > 0),
  );
}

/** From a fifth smaller to a fifth larger, in steps of half a centimetre or a quarter of an inch. */
function firstVary(
  pieces: readonly Piece[],
  units: Project['units'],
  wanted?: { readonly id: string; readonly side?: string },
): SetsVary | null {
  const piece = pieces.find(({ id }) => id === wanted?.id) ?? pieces[0];
  const sizes = piece ? variableSizes(piece).filter(({ mm }) => mm > 0) : [];
  const size = sizes.find(({ side }) => side === wanted?.side) ?? sizes[0];
  if (!piece || !size) return null;
  const stepMm = units === 'in' ? 6.35 : 5;
  const round = (mm: number): number => Math.max(stepMm, Math.round(mm / stepMm) * stepMm);
  return {
    pieceIds: [piece.id],
    side: size.side,
    fromMm: round(0.8 * size.mm),
    toMm: round(1.2 * size.mm),
    stepMm,
  };
}

/** What a size is called: a side of a rectangle, or a measure of a formula. */
function sideName({ source }: Piece, side: string): string {
  if (source?.kind === 'shape') return measureName(source.shape, side);
  return t.cutList.varySides[side as 'along' | 'across'];
}

function faultOf({ fromMm, toMm, stepMm }: SetsVary): string | null {
  if (fromMm > toMm) return t.cutList.varyOrder;
  return (toMm - fromMm) / stepMm > MOST_SIZES - 1 ? t.cutList.varyFine : null;
}

interface VaryFieldsProps {
  readonly pieces: readonly Piece[];
  readonly units: Project['units'];
  readonly vary: SetsVary;
  readonly onChange: (vary: SetsVary) => void;
}

function VaryFields({ pieces, units, vary, onChange }: VaryFieldsProps) {
  const piece = pieces.find(({ id }) => id === vary.pieceIds[0]);
  const write = (wanted: { readonly id: string; readonly side?: string }): void => {
    const next = firstVary(pieces, units, wanted);
    if (next) onChange(next);
  };
  return (
    <div class="vary">
      <div class="row">
        <Select
          label={t.cutList.varyPiece}
          value={vary.pieceIds[0] ?? ''}
          options={pieces.map(({ id, name }) => ({ value: id, label: name }))}
          onChange={(id) => write({ id })}
        />
        {piece && (
          <Select
            label={t.cutList.varySide}
            value={vary.side}
            options={variableSizes(piece)
              .filter(({ mm }) => mm > 0)
              .map(({ side }) => ({ value: side, label: sideName(piece, side) }))}
            onChange={(side) => write({ id: piece.id, side })}
          />
        )}
      </div>
      <div class="row">
        {(['fromMm', 'toMm', 'stepMm'] as const).map((key) => (
          <LengthField
            key={key}
            label={t.cutList.varyLengths[key]}
            mm={vary[key]}
            onChange={(mm) => onChange({ ...vary, [key]: mm })}
          />
        ))}
      </div>
    </div>
  );
}

function Answer({ run, project }: { readonly run: SetsRunState; readonly project: Project }) {
  const session = useSession();
  if (run.kind === 'idle') return null;
  if (run.kind === 'failed') {
    return (
      <p class="field-fault" role="alert">
        {run.reason}
      </p>
    );
  }
  const { asked, lay } = run;
  const answer = lay?.answer;
  const name = asked.project.materials.find(({ id }) => id === asked.materialId)?.name ?? '';
  const varied = asked.project.pieces.find(({ id }) => id === asked.vary?.pieceIds[0])?.name ?? '';
  const sizeOf = (mm: number | null): string => (mm === null ? '' : formatLength(mm, project.units));
  const refusal = lay?.notices.find(({ level }) => level === 'error' && !answer?.tries.length);
  const most = answer?.found[0];
  const isOver = run.kind === 'ended';
  const shown = most && projectWithSets(asked.project, most.sets, asked.vary, most.sizeMm);
  return (
    <div class="answer">
      <div role="status">
        {refusal && (
          <p class="field-fault">
            {refusal.text} <CureLink notice={refusal} />
          </p>
        )}
        {!isOver && <p>{t.cutList.howManyLooking(answer?.tries.length ?? 0)}</p>}
        {isOver && !refusal && !most && <p>{t.cutList.howManyNone(name)}</p>}
      </div>
      {answer && most && (
        <ul class="plain-list">
          {answer.found.map(({ sets, sizeMm }) => (
            <li key={sets} class="row">
              <strong>{t.cutList.howManyFound(sets, varied, sizeOf(sizeMm))}</strong>
              <button
                type="button"
                class="small"
                aria-label={t.cutList.howManyTakeOf(sets, sizeOf(sizeMm))}
                onClick={() => {
                  session.do(takeSets(sets, asked.vary, sizeMm));
                  session.announce(t.cutList.howManyTaken(sets));
                }}
              >
                {t.cutList.howManyTake}
              </button>
            </li>
          ))}
        </ul>
      )}
      {answer && answer.tries.length > 0 && (
        <details class="help">
          <summary>{t.cutList.howManyTries}</summary>
          <ul>
            <li>{t.cutList.howManyBound(answer.atMost)}</li>
            {answer.tries.map((one) => (
              <li key={`${one.sets} ${one.sizeMm}`}>
                {t.cutList.howManyTry[one.verdict](one.sets, sizeOf(one.sizeMm))} {one.reason}
              </li>
            ))}
          </ul>
        </details>
      )}
      {shown &&
        lay?.results.map((one) => (
          <LayPicture
            key={`${one.clothId} ${one.spread}`}
            project={shown}
            lay={one}
            label={t.cutList.howManyPicture(most.sets, name)}
          />
        ))}
    </div>
  );
}
