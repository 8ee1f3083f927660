import { useState } from 'preact/hooks';
import { checkPrint, type MeasuredSheet, RULER_MM } from '../../../pattern/proposals/printCheck.ts';
import type { SizeMark } from '../../../pattern/proposals/sizeMark.ts';
import { LengthField } from '../../fields/NumberFields.tsx';
import { showNumber, t } from '../../strings/index.ts';
import { formatLength } from '../../strings/lengths.ts';
import { useProject } from '../shared/hooks.ts';
import { Icon } from '../shared/Icon.tsx';

interface PrintCheckProps {
  /** What the drawing says its test square measures; 10 cm is usual where it says nothing. */
  readonly statedMm: number;
  readonly longestMm: number;
  /** The drawing was traced from the print, so that what is wrong with the print is wrong with it. */
  readonly isTraced: boolean;
  readonly onCorrect: (mark: SizeMark) => void;
  /** Told what is wrong by what was measured so far, null where nothing is. */
  readonly onMeasured: (mark: SizeMark | null) => void;
}

/** Larger differences than this share make a square too small to judge by. */
const COARSE_SHARE = 0.008;
const NOTHING: MeasuredSheet = { acrossMm: null, upMm: null };

/** Of two factors the one that changes more. */
const farthest = (x: number, y: number): number => (Math.abs(Math.log(x)) > Math.abs(Math.log(y)) ? x : y);

const percent = (share: number): string => `${showNumber(Math.round(share * 10_000) / 100)} %`;

/** The maker measures the test square on each printed sheet and types it; the page says what is wrong with which. */
export function PrintCheck({ statedMm, longestMm, isTraced, onCorrect, onMeasured }: PrintCheckProps) {
  const { units } = useProject();
  const [stated, setStated] = useState(statedMm);
  const [sheets, setSheets] = useState<readonly MeasuredSheet[]>([NOTHING]);
  const measure = (mm: number, measured: readonly MeasuredSheet[]): void => {
    setStated(mm);
    setSheets(measured);
    const { factors: found, trueToSize } = checkPrint(mm, measured);
    onMeasured(found && !trueToSize ? { factorX: found.x, factorY: found.y } : null);
  };
  const set = (index: number, change: Partial<MeasuredSheet>): void =>
    measure(
      stated,
      sheets.map((sheet, i) => (i === index ? { ...sheet, ...change } : sheet)),
    );
  const check = checkPrint(stated, sheets, longestMm);
  const { factors } = check;
  const isTrue = (number: number): boolean => check.verdicts[number - 1]?.trueToSize === true;
  const oddAndWrong = check.odd.filter((number) => !isTrue(number));
  const oddAndTrue = check.odd.filter(isTrue);
  const isOff = factors !== null && !check.trueToSize;
  const offMm = factors ? longestMm * (1 - 1 / farthest(factors.x, factors.y)) : 0;
  return (
    <details class="help print-check">
      <summary>{t.drawing.printCheck}</summary>
      <div>
        <p>{t.drawing.printHelp}</p>
        <LengthField
          class="print-stated"
          label={t.drawing.printStated}
          mm={stated}
          onChange={(mm) => measure(mm, sheets)}
        />
        {check.rulerShare > COARSE_SHARE && (
          <p class="field-help">
            {t.drawing.printCoarse(
              formatLength(stated, units),
              formatLength(RULER_MM, units),
              percent(check.rulerShare),
            )}
          </p>
        )}
        <ol class="plain-list measured-sheets">
          {sheets.map((sheet, index) => {
            const number = index + 1;
            const verdict = check.verdicts[index];
            return (
              // Sheets have no names but their numbers; they never change their order.
              <li key={number} class="measured-sheet">
                <LengthField
                  label={t.drawing.printAcross(number)}
                  mm={sheet.acrossMm}
                  onChange={(mm) => set(index, { acrossMm: mm })}
                  onClear={() => set(index, { acrossMm: null })}
                />
                <LengthField
                  label={t.drawing.printUp(number)}
                  mm={sheet.upMm}
                  onChange={(mm) => set(index, { upMm: mm })}
                  onClear={() => set(index, { upMm: null })}
                />
                {verdict && (
                  <span>
                    <Icon name={verdict.trueToSize ? 'settled' : 'lacking'} />{' '}
                    {verdict.trueToSize
                      ? t.drawing.printTrue
                      : t.drawing.printOff(percent(1 / verdict.factorX), percent(1 / verdict.factorY))}
                  </span>
                )}
              </li>
            );
          })}
        </ol>
        <button type="button" class="quiet" onClick={() => setSheets([...sheets, NOTHING])}>
          {t.drawing.printMore}
        </button>
        {factors !== null && (
          <div class={isOff ? 'square-found warn' : 'square-found good'} role="status">
            {!isOff && <p>{t.drawing.printAllTrue}</p>}
            {oddAndWrong.length > 0 && <p>{t.drawing.printOdd(oddAndWrong)}</p>}
            {oddAndTrue.length > 0 && <p>{t.drawing.printOddTrue(oddAndTrue)}</p>}
            {isOff && check.fit && <p>{t.drawing.printFit(check.fit.from, check.fit.to)}</p>}
            {isOff && Math.abs(offMm) >= RULER_MM && (
              <p>
                {t.drawing.printLongest(
                  formatLength(longestMm, units),
                  formatLength(Math.abs(offMm), units),
                  offMm > 0,
                )}
              </p>
            )}
            {isOff && !isTraced && <p>{t.drawing.printAgain(percent(factors.x), percent(factors.y))}</p>}
            {isOff && isTraced && (
              <>
                <p>{t.drawing.printTraced}</p>
                <button type="button" onClick={() => onCorrect({ factorX: factors.x, factorY: factors.y })}>
                  {t.drawing.printCorrect(percent(factors.x), percent(factors.y))}
                </button>
              </>
            )}
            {isOff && <p class="field-help">{t.drawing.printAllowance}</p>}
          </div>
        )}
      </div>
    </details>
  );
}
