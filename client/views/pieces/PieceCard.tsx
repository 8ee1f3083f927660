import { useState } from 'preact/hooks';
import { boundingBox } from '../../../nesting/geometry/rings.ts';
import type { Piece } from '../../../pattern/exchange/project.ts';
import { mendPiece } from '../../../pattern/pieces/index.ts';
import { Choice, Select } from '../../fields/Choice.tsx';
import { AngleField, LengthField } from '../../fields/NumberFields.tsx';
import { NameField, TextField } from '../../fields/TextField.tsx';
import { foldableEdges } from '../../render/pieceView.ts';
import { cureOf, WAYS } from '../../state/cures.ts';
import {
  changeLie,
  copyPiece,
  mendOutline,
  notePiece,
  remeasure,
  removeHole,
  removePieces,
  renamePiece,
  resizePiece,
  setFold,
  swapGrain,
  turnGrain,
  turnTop,
} from '../../state/pieceCommands.ts';
import { pieceFacts, problemsIn } from '../../state/pieceFacts.ts';
import { language, t } from '../../strings/index.ts';
import { formatLength, formatSize } from '../../strings/lengths.ts';
import { FoldDrawing } from '../cloths/HelpDrawings.tsx';
import { SizeMark } from '../import/SizeMark.tsx';
import { useAddress, useGo, useProject, useSession } from '../shared/hooks.ts';
import { Icon } from '../shared/Icon.tsx';
import { LinePart } from './LinePart.tsx';
import { PartsPart } from './PartsPart.tsx';
import { PieceDrawing } from './PieceDrawing.tsx';
import { PrintPart } from './PrintPart.tsx';
import { FormulaSums, ShapeFields, shapeFault } from './ShapeFields.tsx';
import { isStrip, StripsPart } from './StripsPart.tsx';
import { sideOf } from './sideOf.ts';
import { VariantSteps, VariantsOf } from './VariantPart.tsx';

const MOST_EDGES = 12;

interface PieceCardProps {
  readonly piece: Piece;
  /** Opens the way to bring in a drawing. */
  readonly onBringIn: () => void;
}

/** Everything about one piece: how it lies, what its line is, what is wrong with it. */
export function PieceCard({ piece, onBringIn }: PieceCardProps) {
  const session = useSession();
  const project = useProject();
  const go = useGo();
  const address = useAddress();
  const [isPickingFold, setPicking] = useState(false);
  const copy = (): void => {
    const command = copyPiece(piece, t.common.copyName(piece.name));
    session.do(command);
    go('pieces', command.id);
  };
  const remove = (): void => {
    session.do(removePieces(session.project, [piece.id]));
    session.announce(t.pieces.removed(piece.name));
    go('pieces');
  };
  return (
    <article class="detail" aria-label={piece.name}>
      <a class="back" href={address('pieces')}>
        <Icon name="back" />
        {t.piece.back}
      </a>
      <div class="detail-head">
        <NameField
          label={t.common.name}
          value={piece.name}
          onChange={(name) => session.do(renamePiece(piece, name))}
        />
        <div class="buttons">
          <button type="button" class="quiet" onClick={copy}>
            {t.common.duplicate}
          </button>
          <button type="button" class="quiet danger" onClick={remove}>
            {t.common.remove}
          </button>
        </div>
      </div>
      <PieceProblems piece={piece} onBringIn={onBringIn} />
      <PieceDrawing piece={piece} isPickingFold={isPickingFold} onPicked={() => setPicking(false)} />
      <div class="detail-fields">
        <SizePart piece={piece} />
        {piece.variant ? (
          <VariantSteps piece={piece} />
        ) : (
          <>
            <LinePart piece={piece} />
            <FoldPart piece={piece} isPicking={isPickingFold} setPicking={setPicking} />
            <GrainPart piece={piece} />
            <TopPart piece={piece} />
            <PartsPart piece={piece} onBringIn={onBringIn} />
            <PrintPart piece={piece} />
            <HolesPart piece={piece} />
          </>
        )}
        <VariantsOf piece={piece} />
        <CountsPart piece={piece} />
        {isStrip(project, piece) && <StripsPart piece={piece} />}
        <TextField
          label={t.common.notes}
          value={piece.notes}
          lines={2}
          maxLength={20_000}
          onChange={(notes) => session.do(notePiece(piece, notes))}
          class="part"
        />
      </div>
    </article>
  );
}

function PieceProblems({ piece, onBringIn }: PieceCardProps) {
  const session = useSession();
  const address = useAddress();
  const { units } = useProject();
  const problems = problemsIn(piece, units).filter((problem) => problem.level !== 'info');
  if (problems.length === 0) return null;
  const isFaulty = problems.some((problem) => problem.level === 'error');
  const cure = isFaulty ? mendPiece(piece, units, language) : null;
  const canMend = cure !== null && !cure.problems.some((problem) => problem.level === 'error');
  const isItsOutline = problems.some(({ code }) => WAYS[code]?.on === 'piece' && WAYS[code].at === 'outline');
  const mend = (): void => {
    if (!cure) return;
    session.do(mendOutline(piece, cure.piece));
    session.announce(t.piece.mended(cure.mended.join(' ')));
  };
  return (
    <section class={isFaulty ? 'lacks bad' : 'lacks'} aria-label={t.piece.problems} data-spot="outline">
      <h3>
        <Icon name="lacking" />
        {isFaulty ? t.piece.problems : t.piece.hints}
      </h3>
      <ul>
        {problems.map((problem) => {
          const { at } = cureOf({ code: problem.code, pieceId: piece.id }, session.project);
          return (
            <li key={problem.text}>
              <span>{problem.text}</span>
              {at !== 'outline' && (
                <a class="go" href={address('pieces', piece.id, at)}>
                  {t.lacks.goTo}
                </a>
              )}
            </li>
          );
        })}
      </ul>
      {isFaulty && !canMend && isItsOutline && (
        <p class="row">
          <button type="button" onClick={onBringIn}>
            {t.pieces.ways.drawing}
          </button>
          <span>{t.piece.unmendable}</span>
        </p>
      )}
      {canMend && (
        <p class="row">
          <button type="button" onClick={mend}>
            {t.piece.mend}
          </button>
          <span>{t.piece.mendHelp}</span>
        </p>
      )}
    </section>
  );
}

function SizePart({ piece }: { readonly piece: Piece }) {
  const session = useSession();
  const { units } = useProject();
  const facts = pieceFacts(piece);
  const { source } = piece;
  return (
    <fieldset data-spot="size" class="part">
      <legend>
        {t.piece.sizeTitle}{' '}
        <span class="faint">
          {source?.kind === 'measured' && t.piece.source.measured}
          {source?.kind === 'shape' && t.shapes.names[source.shape]}
          {source?.kind === 'drawing' && t.piece.source.drawing(source.file)}
        </span>
      </legend>
      <SizeMark piece={piece} />
      {source?.kind === 'measured' ? (
        <div class="row">
          <LengthField
            label={t.piece.along}
            mm={source.alongMm}
            onChange={(mm) => session.do(resizePiece(piece, mm, source.acrossMm))}
          />
          <LengthField
            label={t.piece.across}
            mm={source.acrossMm}
            onChange={(mm) => session.do(resizePiece(piece, source.alongMm, mm))}
          />
          <button type="button" onClick={() => session.do(swapGrain(piece))}>
            <Icon name="swap" />
            {t.piece.swap}
          </button>
        </div>
      ) : source?.kind === 'shape' ? (
        <>
          <ShapeFields
            shape={source.shape}
            measures={source.measures}
            onChange={(measures) => {
              const fault = shapeFault(source.shape, measures, units);
              if (fault === null) session.do(remeasure(piece, measures));
              else session.messages.say(fault, { tone: 'bad' });
            }}
          />
          <FormulaSums shape={source.shape} measures={source.measures} units={units} />
        </>
      ) : (
        <p>
          {t.piece.bounding}:{' '}
          {facts.size ? formatSize(facts.size.widthMm, facts.size.heightMm, units) : t.pieces.noSize}
        </p>
      )}
      {piece.foldEdge !== null && facts.wholeSize && (
        <p>{t.piece.wholeSize(formatSize(facts.wholeSize.widthMm, facts.wholeSize.heightMm, units))}</p>
      )}
      {!facts.isFaulty && piece.foldEdge === null && (
        <p class="field-help">{facts.needsNoHands ? t.piece.symmetric : t.piece.handed}</p>
      )}
    </fieldset>
  );
}

function GrainPart({ piece }: { readonly piece: Piece }) {
  const session = useSession();
  return (
    <fieldset data-spot="grain" class="part">
      <legend>{t.piece.grain}</legend>
      <div class="row">
        <AngleField
          label={t.piece.grainAngle}
          degrees={piece.grainDeg}
          onChange={(degrees) => session.do(turnGrain(piece, degrees))}
        />
        <div class="buttons">
          {[45, 90, -45].map((by) => (
            <button
              key={by}
              type="button"
              aria-label={t.piece.turnBy(by)}
              onClick={() => session.do(turnGrain(piece, piece.grainDeg + by))}
            >
              {t.piece.by(by)}
            </button>
          ))}
        </div>
      </div>
      <p class="field-help">{t.piece.grainHelp}</p>
      <Select
        label={t.piece.lie}
        help={t.piece.lieHelp}
        value={piece.lie ?? 'asCloth'}
        options={(['asCloth', 'grain', 'cross', 'bias', 'biasLeft', 'biasRight', 'quarter'] as const).map(
          (value) => ({ value, label: value === 'asCloth' ? t.piece.lieAsCloth : t.cloth.turns[value] }),
        )}
        onChange={(value) => session.do(changeLie(piece, value === 'asCloth' ? undefined : value))}
      />
    </fieldset>
  );
}

function TopPart({ piece }: { readonly piece: Piece }) {
  const session = useSession();
  const own = String(piece.topDeg);
  const usual = ['90', '0', '-90', '180'];
  const options = [...usual, ...(usual.includes(own) ? [] : [own])];
  return (
    <Choice
      class="part"
      label={t.piece.top}
      value={own}
      help={t.piece.topHelp}
      options={options.map((value) => ({
        value,
        label: t.piece.tops[value] ?? t.piece.topOther(Number(value)),
      }))}
      onChange={(value) => session.do(turnTop(piece, Number(value)))}
    />
  );
}

interface FoldPartProps {
  readonly piece: Piece;
  readonly isPicking: boolean;
  readonly setPicking: (on: boolean) => void;
}

function FoldPart({ piece, isPicking, setPicking }: FoldPartProps) {
  const session = useSession();
  const { units } = useProject();
  const edges = foldableEdges(piece.outline, MOST_EDGES);
  const options = [
    { value: '', label: t.piece.foldNone },
    ...edges.map(({ edge, lengthMm }) => ({
      value: String(edge),
      label: t.piece.foldEdge(edge + 1, `${formatLength(lengthMm, units)}, ${sideOf(piece, edge)}`),
    })),
  ];
  const isListed = piece.foldEdge === null || edges.some(({ edge }) => edge === piece.foldEdge);
  const own = piece.foldEdge === null ? '' : String(piece.foldEdge);
  return (
    <fieldset data-spot="fold" class="part">
      <legend>{t.piece.fold}</legend>
      <div class="row">
        <Select
          label={t.piece.fold}
          hideLabel
          value={own}
          options={
            isListed ? options : [...options, { value: own, label: t.piece.foldEdge(Number(own) + 1, '–') }]
          }
          onChange={(value) => {
            session.do(setFold(piece, value === '' ? null : Number(value)));
            setPicking(false);
          }}
        />
        <button type="button" aria-pressed={isPicking} onClick={() => setPicking(!isPicking)}>
          <Icon name="fold" />
          {isPicking ? t.piece.foldPicking : t.piece.foldPick}
        </button>
      </div>
      <div class="with-drawing">
        <p class="field-help">{t.piece.foldHelp}</p>
        <FoldDrawing />
      </div>
    </fieldset>
  );
}

function HolesPart({ piece }: { readonly piece: Piece }) {
  const session = useSession();
  const { units } = useProject();
  if (piece.holes.length === 0) return null;
  return (
    <fieldset data-spot="holes" class="part">
      <legend>{t.piece.holes}</legend>
      <ul class="plain-list">
        {piece.holes.map((hole, index) => {
          const box = boundingBox(hole);
          const size = formatSize(box.maxX - box.minX, box.maxY - box.minY, units);
          return (
            <li key={`${index} ${size}`}>
              {t.piece.hole(index + 1, size)}{' '}
              <button
                type="button"
                class="quiet"
                aria-label={t.piece.closeHole(index + 1)}
                onClick={() => session.do(removeHole(piece, index))}
              >
                {t.piece.close}
              </button>
            </li>
          );
        })}
      </ul>
    </fieldset>
  );
}

function CountsPart({ piece }: { readonly piece: Piece }) {
  const project = useProject();
  const address = useAddress();
  const rows = project.cutList.filter((row) => row.pieceId === piece.id);
  return (
    <fieldset class="part">
      <legend>{t.piece.counts}</legend>
      {rows.length === 0 ? (
        <p>{t.piece.countsNone}</p>
      ) : (
        <ul class="plain-list">
          {rows.map((row) => (
            <li key={row.materialId}>
              {t.piece.countLine(
                t.cutList.totalHands(row.plain, row.mirrored, row.onFold, 0),
                project.materials.find((material) => material.id === row.materialId)?.name ?? '',
              )}
            </li>
          ))}
        </ul>
      )}
      <a class="go" href={address('cutlist', piece.id)}>
        {t.piece.toCutList}
      </a>
    </fieldset>
  );
}
