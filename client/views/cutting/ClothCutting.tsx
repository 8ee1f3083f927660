import { useMemo } from 'preact/hooks';
import type { ClothLay, Project } from '../../../pattern/exchange/project.ts';
import {
  type CutStep,
  type CuttingOrder,
  type CuttingStretch,
  cuttingOrder,
  layPositions,
  leftWords,
  placeWords,
  stepMark,
  stepWords,
} from '../../../pattern/output/index.ts';
import { caution } from '../../../pattern/plan/caution.ts';
import { howClothLies } from '../../../pattern/plan/layContent.ts';
import { layRows } from '../../../pattern/plan/layRows.ts';
import { withTicks } from '../../state/cuttingCommands.ts';
import { language, t } from '../../strings/index.ts';
import { formatSize } from '../../strings/lengths.ts';
import { useSession } from '../shared/hooks.ts';
import { Icon } from '../shared/Icon.tsx';
import { ItIsCut } from '../shelf/ItIsCut.tsx';
import { ChalkPoints } from './ChalkPoints.tsx';
import { CutPicture } from './CutPicture.tsx';
import { BigTick } from './TickList.tsx';

interface ClothCuttingProps {
  readonly project: Project;
  readonly lay: ClothLay;
  /** Which pieces of the cut list each placement gives, by `placementKey`. */
  readonly marks: ReadonlyMap<string, readonly string[]>;
  readonly ticks: ReadonlySet<string>;
  readonly hideDone: boolean;
  /** Something it was made from has changed. */
  readonly isStale: boolean;
}

/** One cloth cut step by step: enough to do it without paper. */
export function ClothCutting({ project, lay, marks, ticks, hideDone, isStale }: ClothCuttingProps) {
  const cloth = project.cloths.find((entry) => entry.id === lay.clothId);
  const material = project.materials.find((entry) => entry.id === lay.materialId);
  const order = useMemo(
    () => cuttingOrder(lay, project),
    [lay, project.cutList, project.pieces, project.cloths, project.cutting.tableMm],
  );
  const done = useMemo(
    () =>
      new Set(
        [...marks].filter(([, own]) => own.length > 0 && own.every((m) => ticks.has(m))).map(([key]) => key),
      ),
    [marks, ticks],
  );
  const several = order.stretches.length > 1;
  const isAllCut = done.size > 0 && [...marks].every(([key, own]) => own.length === 0 || done.has(key));
  return (
    <div class="cloth-cutting">
      <h4>{cloth?.name ?? lay.clothId}</h4>
      <p class="caution">
        <Icon name="lacking" /> {caution(material, cloth, project, language)}
      </p>
      <p>
        <strong>{t.cutting.laid}</strong>{' '}
        {sentences(howClothLies(lay, project, { units: project.units, language }))}
      </p>
      <LetterKey project={project} lay={lay} />
      {order.stretches
        .filter(({ steps }) => steps.length > 0)
        .map((stretch) => (
          <section key={stretch.segment} class="stretch">
            <h5>
              {several
                ? t.cutting.part(stretch.segment + 1, t.cutting.spreads[stretch.doubled])
                : t.cutting.spreads[stretch.doubled]}
            </h5>
            <div class="stretch-columns">
              <CutPicture
                project={project}
                lay={lay}
                stretch={stretch}
                done={done}
                label={t.cutting.picture(cloth?.name ?? lay.clothId)}
              />
              <div class="stretch-steps">
                <Places project={project} stretch={stretch} />
                <Steps
                  project={project}
                  lay={lay}
                  stretch={stretch}
                  marks={marks}
                  ticks={ticks}
                  hideDone={hideDone}
                />
                <Left project={project} order={order} stretch={stretch} />
              </div>
            </div>
          </section>
        ))}
      {isAllCut && cloth && !isStale && <ItIsCut project={project} cloth={cloth} lay={lay} />}
    </div>
  );
}

/** So many rows are shown without being asked for. */
const SHORT_KEY = 8;

/** What the letters in the picture and in the steps stand for. */
function LetterKey({ project, lay }: Pick<ClothCuttingProps, 'project' | 'lay'>) {
  const rows = useMemo(
    () => layRows(lay, project, language).filter(({ placements }) => placements > 0),
    [lay, project.pieces, project.cutList, project.cloths],
  );
  return (
    <details class="help letter-key" open={rows.length <= SHORT_KEY}>
      <summary>{t.cutting.letters}</summary>
      <ul class="plain-list">
        {rows.map(({ key, name, words, widthMm, heightMm, placements, hand }) => {
          const size = formatSize(widthMm, heightMm, project.units);
          return (
            <li key={key}>
              <strong>{key}</strong> {name}{' '}
              <span class="faint">
                {placements} × {words.short} · {hand === 'fold' ? t.cutting.opened(size) : size}
              </span>
            </li>
          );
        })}
      </ul>
    </details>
  );
}

/** Each begins with a capital and ends with a stop. */
function sentences(list: readonly string[]): string {
  return list
    .map((words) => `${words.charAt(0).toLocaleUpperCase(language)}${words.slice(1)}`)
    .map((words) => (/[.!?]$/.test(words) ? words : `${words}.`))
    .join(' ');
}

interface StepsProps extends Omit<ClothCuttingProps, 'isStale'> {
  readonly stretch: CuttingStretch;
}

function Steps({ project, lay, stretch, marks, ticks, hideDone }: StepsProps) {
  const session = useSession();
  const marksOf = (tags: readonly string[]): string[] =>
    stretch.pieces.flatMap((piece) => (tags.includes(piece.tag) ? (marks.get(piece.key) ?? []) : []));
  const isDone = (step: CutStep): boolean => {
    const own = marksOf(step.frees);
    // A step of outlines is done with its pieces; a ruler's cut is ticked itself.
    return step.work.kind === 'outline' || step.work.kind === 'held'
      ? own.length > 0 && own.every((mark) => ticks.has(mark))
      : ticks.has(stepMark(lay, step));
  };
  const shown = hideDone ? stretch.steps.filter((step) => !isDone(step)) : stretch.steps;
  if (shown.length === 0) return <p class="faint">{t.cutting.allDone}</p>;
  return (
    <ol class="cut-steps" aria-label={t.cutting.steps}>
      {shown.map((step) => {
        const { what, at, gives } = stepWords(step, project.units, stretch.doubled, language);
        const byPiece = step.work.kind === 'outline' || step.work.kind === 'held';
        const own = byPiece ? marksOf(step.frees) : [stepMark(lay, step), ...marksOf(step.frees)];
        return (
          <li key={step.number} class={isDone(step) ? 'cut-step done' : 'cut-step'}>
            <BigTick
              name={`${t.cutting.step(step.number)}: ${what}`}
              on={isDone(step)}
              onChange={(on) => session.amend(withTicks(own, on))}
              class="cut-step-tick"
            >
              <span class="step-mark">{step.number}</span>
              <span>
                {what}
                {at !== '' && <strong>{at}</strong>}
                {gives !== '' && !byPiece && <span class="gives">→ {gives}</span>}
              </span>
            </BigTick>
            {byPiece && (
              <Pieces
                project={project}
                lay={lay}
                stretch={stretch}
                marks={marks}
                ticks={ticks}
                hideDone={hideDone}
                tags={step.frees}
              />
            )}
          </li>
        );
      })}
    </ol>
  );
}

interface PiecesProps extends StepsProps {
  readonly tags: readonly string[];
}

/** Pieces cut one by one, each with the points to chalk. */
function Pieces({ project, lay, stretch, marks, ticks, hideDone, tags }: PiecesProps) {
  const session = useSession();
  const positions = useMemo(
    () => layPositions(lay, project).find(({ segment }) => segment === stretch.segment),
    [lay, project.pieces, project.cutList],
  );
  const names = new Map(project.pieces.map((piece) => [piece.id, piece.name]));
  const sizes = useMemo(
    () => new Map(layRows(lay, project).map(({ key, widthMm, heightMm }) => [key, { widthMm, heightMm }])),
    [lay, project.pieces, project.cutList],
  );
  return (
    <ul class="outline-pieces">
      {tags.map((tag) => {
        const piece = stretch.pieces.find((entry) => entry.tag === tag);
        if (!piece) return null;
        const own = marks.get(piece.key) ?? [];
        const on = own.length > 0 && own.every((mark) => ticks.has(mark));
        if (on && hideDone) return null;
        const name = names.get(piece.pieceId) ?? piece.pieceId;
        // Copies are numbered behind the letter of their row.
        const size = sizes.get(tag.replace(/\d+$/, ''));
        const place = positions?.pieces.find((entry) => entry.tag === tag);
        return (
          <li key={tag}>
            <BigTick
              name={`${tag}, ${name}`}
              on={on}
              onChange={(ticked) => session.amend(withTicks(own, ticked))}
            >
              <strong>{tag}</strong> {name} <span class="faint">{t.plan.hands[piece.hand]}</span>
              {size && (
                <>
                  {' '}
                  <span class="piece-size">
                    {piece.hand === 'fold'
                      ? t.cutting.opened(formatSize(size.widthMm, size.heightMm, project.units))
                      : formatSize(size.widthMm, size.heightMm, project.units)}
                  </span>
                </>
              )}
            </BigTick>
            {place && positions && (
              <ChalkPoints position={place} from={positions.from} units={project.units} />
            )}
          </li>
        );
      })}
    </ul>
  );
}

function Places({ project, stretch }: Pick<StepsProps, 'project' | 'stretch'>) {
  if (stretch.places.length === 0) return null;
  return (
    <div class="table-places">
      <h6>{t.cutting.places}</h6>
      <ol class="plain-list">
        {placeWords(stretch, project.units, language).map(({ where, cuts, hangs }) => (
          <li key={where}>
            {where}
            {cuts !== '' && <strong> {cuts}</strong>}
            {hangs !== '' && <span class="faint"> {hangs}</span>}
          </li>
        ))}
      </ol>
    </div>
  );
}

interface LeftProps extends Pick<StepsProps, 'project' | 'stretch'> {
  readonly order: CuttingOrder;
}

function Left({ project, order, stretch }: LeftProps) {
  const isLast = stretch.segment === order.stretches.at(-1)?.segment;
  return (
    <details class="help">
      <summary>{t.cutting.remains}</summary>
      <ul class="plain-list">
        {leftWords(order, stretch, isLast, project.units, language).map((words) => (
          <li key={words}>{words}</li>
        ))}
      </ul>
    </details>
  );
}
