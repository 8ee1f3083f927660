import { useMemo, useState } from 'preact/hooks';
import type { SizeMark } from '../../../pattern/proposals/sizeMark.ts';
import type { ReadDrawing } from '../../../pattern/reading/drawing.ts';
import { findTestSquare, type TestSquare } from '../../../pattern/reading/index.ts';
import { scaleFromKnown } from '../../../pattern/reading/scaling.ts';
import { Select } from '../../fields/Choice.tsx';
import { LengthField } from '../../fields/NumberFields.tsx';
import { type Measure, measureOf } from '../../reading/picking.ts';
import { showNumber, t } from '../../strings/index.ts';
import { formatLength } from '../../strings/lengths.ts';
import { useProject } from '../shared/hooks.ts';
import { Icon } from '../shared/Icon.tsx';
import { PrintCheck } from './PrintCheck.tsx';

/** The square that most patterns print (common practice, no source). */
const USUAL_SQUARE_MM = 100;

const percent = (share: number): string => `${showNumber(Math.round(share * 10_000) / 100)} %`;

interface ScalePartProps {
  readonly reading: ReadDrawing;
  /** The outline pointed out last in the drawing or the list. */
  readonly last: string | null;
  /** Reads the drawing again with all its sizes so many times those in the file. */
  readonly onRescale: (factor: number) => void;
  /** The maker wants the size of the file, whatever its test square says. */
  readonly isLeft: boolean;
  readonly onLeave: (isLeft: boolean) => void;
  /** Pieces are to come in corrected across and up apart, by what the test square or a print says. */
  readonly stretch: SizeMark | null;
  readonly onStretch: (stretch: SizeMark | null) => void;
  /** Told what is wrong with a print, as far as measured. */
  readonly onMeasured: (mark: SizeMark | null) => void;
  /** Traced from a print: what is wrong with the print is wrong with it. */
  readonly isTraced: boolean;
}

/** Whether the size can be trusted, and how to correct it by something known. */
export function ScalePart(props: ScalePartProps) {
  const { reading, last, onRescale, isLeft, onLeave, stretch, onStretch, onMeasured, isTraced } = props;
  const { units } = useProject();
  const { scale } = reading;
  const [chosen, setChosen] = useState<{ readonly id: string; readonly after: string | null } | null>(null);
  // What was chosen here holds until something else is pointed out in the drawing.
  const outlineId = chosen && chosen.after === last ? chosen.id : last;
  const [measure, setMeasure] = useState<Measure>('width');
  const [fault, setFault] = useState<string | null>(null);
  // The longer what is measured, the surer the size: arrow heads and letters come last.
  const largestFirst = useMemo(
    () => reading.outlines.toSorted((a, b) => b.widthMm + b.heightMm - a.widthMm - a.heightMm),
    [reading],
  );
  const outline = largestFirst.find((entry) => entry.id === outlineId) ?? largestFirst[0];
  const drawn = outline ? measureOf(outline, measure) : 0;
  const rescale = (factor: number): void => {
    setFault(null);
    onRescale(factor);
  };
  const correct = (trueMm: number): void => {
    try {
      rescale(scale.factor * scaleFromKnown(drawn, trueMm));
    } catch (error) {
      if (!(error instanceof RangeError)) throw error;
      setFault(t.drawing.scaleTooFar);
    }
  };
  const square = useMemo(() => findTestSquare(reading), [reading]);
  const isWrong = square?.sure === true && !square.verdict.trueToSize;
  const isDoubtful = scale.doubt !== null || isWrong;
  return (
    <details class={isDoubtful ? 'help scale doubtful' : 'help scale'} open={isDoubtful}>
      <summary>
        {isDoubtful && <Icon name="lacking" />}
        {scale.factor !== 1
          ? t.drawing.scaleFactor(`${showNumber(Math.round(scale.factor * 10_000) / 100)} %`)
          : scale.known
            ? t.drawing.scaleKnown
            : square?.sure && square.verdict.trueToSize
              ? t.drawing.scaleBySquare
              : t.drawing.scaleUnknown}
      </summary>
      <div>
        {square && (
          <SquareFound
            square={square}
            isLeft={isLeft}
            onCorrect={(factor) => rescale(scale.factor * factor)}
            onLeave={onLeave}
            onStretch={onStretch}
          />
        )}
        {stretch && (
          <div class="square-found good" role="status">
            <p>{t.drawing.squareStretched(percent(stretch.factorX), percent(stretch.factorY))}</p>
            <button type="button" class="quiet" onClick={() => onStretch(null)}>
              {t.drawing.scaleReset}
            </button>
          </div>
        )}
        {scale.doubt !== null && <p>{scale.doubt}</p>}
        {scale.guesses.length > 0 && (
          <div class="row">
            {scale.guesses.map((guess) => (
              <button
                key={guess.dpi}
                type="button"
                class={guess.likely ? 'primary' : undefined}
                onClick={() => rescale(scale.factor * guess.factor)}
              >
                {t.drawing.guess(guess.dpi)}
              </button>
            ))}
          </div>
        )}
        {(scale.unitGuesses ?? []).length > 0 && (
          <fieldset class="choice">
            <legend>{t.drawing.unitAsk}</legend>
            <div class="row">
              {scale.unitGuesses?.map((guess) => (
                <button
                  key={guess.unit}
                  type="button"
                  class={guess.likely ? 'primary' : undefined}
                  onClick={() => rescale(scale.factor * guess.factor)}
                >
                  {t.drawing.units[guess.unit]}
                </button>
              ))}
            </div>
          </fieldset>
        )}
        <p>{t.drawing.scaleHelp}</p>
        {outline && (
          <div class="row">
            <Select
              label={t.drawing.scaleOf}
              value={outline.id}
              options={largestFirst.slice(0, 200).map((entry) => ({
                value: entry.id,
                label: `${entry.suggestedName} (${formatLength(entry.widthMm, units)} × ${formatLength(entry.heightMm, units)})`,
              }))}
              onChange={(id) => setChosen({ id, after: last })}
            />
            <Select
              label={t.drawing.scaleWhat}
              value={measure}
              options={(['width', 'height', 'edge', 'outerWidth', 'outerHeight'] as const).map((value) => ({
                value,
                label: `${t.drawing.measures[value]}: ${formatLength(measureOf(outline, value), units)}`,
              }))}
              onChange={setMeasure}
            />
            <LengthField label={t.drawing.scaleTrue} mm={drawn} onChange={correct} />
          </div>
        )}
        {fault !== null && (
          <p class="field-fault" role="alert">
            {fault}
          </p>
        )}
        <PrintCheck
          key={square?.statedMm}
          statedMm={square?.sure ? square.statedMm : USUAL_SQUARE_MM}
          longestMm={reading.outlines.reduce(
            (most, { id, widthMm, heightMm }) =>
              id === square?.id ? most : Math.max(most, widthMm, heightMm),
            0,
          )}
          isTraced={isTraced}
          onCorrect={onStretch}
          onMeasured={onMeasured}
        />
        {scale.factor !== 1 && (
          <button type="button" class="quiet" onClick={() => rescale(1)}>
            {t.drawing.scaleReset}
          </button>
        )}
      </div>
    </details>
  );
}

interface SquareFoundProps {
  readonly square: TestSquare;
  readonly isLeft: boolean;
  readonly onCorrect: (factor: number) => void;
  readonly onLeave: (isLeft: boolean) => void;
  readonly onStretch: (stretch: SizeMark) => void;
}

/** The test square or scale bar of the drawing, and what it says of the drawing's size. */
function SquareFound({ square, isLeft, onCorrect, onLeave, onStretch }: SquareFoundProps) {
  const { units } = useProject();
  const { verdict, statedText, measuredXMm, measuredYMm } = square;
  const sizes = [measuredXMm, measuredYMm].flatMap((mm) => (mm === null ? [] : [formatLength(mm, units)]));
  return (
    <div class={verdict.trueToSize ? 'square-found good' : 'square-found warn'} role="status">
      <p>
        <Icon name={verdict.trueToSize ? 'settled' : 'lacking'} />{' '}
        {t.drawing.squareFound(square.kind, statedText, sizes.join(' × '))}
      </p>
      <p>{verdict.text}</p>
      {!verdict.trueToSize && measuredXMm !== null && measuredYMm !== null && (
        <p>{t.drawing.squareWays(percent(1 / verdict.factorX), percent(1 / verdict.factorY))}</p>
      )}
      {!verdict.trueToSize && (
        <div class="row">
          {verdict.factor !== null && (
            <button type="button" onClick={() => onCorrect(verdict.factor ?? 1)}>
              {t.drawing.squareCorrect}
            </button>
          )}
          {verdict.factor === null && (
            <button
              type="button"
              onClick={() => onStretch({ factorX: verdict.factorX, factorY: verdict.factorY })}
            >
              {t.drawing.squareStretch}
            </button>
          )}
          {square.sure && !isLeft && (
            <button type="button" class="quiet" onClick={() => onLeave(true)}>
              {t.drawing.squareLeave}
            </button>
          )}
        </div>
      )}
      {!verdict.trueToSize && square.sure && (
        <p class="field-help">{isLeft ? t.drawing.squareLeft : t.drawing.squareMarked}</p>
      )}
    </div>
  );
}
