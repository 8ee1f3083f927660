import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import {
  type GridLayout,
  isFree,
  readGrid,
  type SheetLayout,
  writeGrid,
} from '../../../pattern/pages/layout.ts';
import type { DrawingPage, ReadDrawing } from '../../../pattern/reading/drawing.ts';
import { errorInWords } from '../../../pattern/toldFault.ts';
import { LengthField } from '../../fields/NumberFields.tsx';
import { language, t } from '../../strings/index.ts';
import { formatLength } from '../../strings/lengths.ts';
import { useProject } from '../shared/hooks.ts';
import { Icon } from '../shared/Icon.tsx';
import { SheetsByHand } from './SheetsByHand.tsx';
import { WindowFields } from './WindowFields.tsx';

interface SheetsPartProps {
  readonly reading: ReadDrawing;
  /** All pages of the file as they stood apart. */
  readonly pages: readonly DrawingPage[];
  /** The drawing with its pages apart, at the size of the file; null where it has none. */
  readonly apart: ReadDrawing | null;
  /** They were to be put together by what is drawn on them, and that didn't work. */
  readonly isUnfound: boolean;
  readonly onSheets: (sheets: SheetLayout | 'find' | undefined) => void;
}

/** The pages of a PDF as the sheets of one drawing: found, or laid by the maker's own map. */
export function SheetsPart({ reading, pages, apart, isUnfound, onSheets }: SheetsPartProps) {
  const { units } = useProject();
  const { sheets } = reading;
  const grid = sheets && !isFree(sheets.layout) ? sheets.layout : null;
  const withLines = pages.filter(({ content }) => content === 'lines');
  if (reading.format !== 'pdf' || withLines.length < 2) return null;
  return (
    <details class="help" open={sheets !== undefined || isUnfound}>
      <summary>
        {sheets ? t.drawing.sheetsTogether(sheets.sheets, sheets.met, sheets.whole) : t.drawing.sheets}
      </summary>
      <div class="sheets-part">
        {!sheets && <p>{isUnfound ? t.drawing.sheetsUnfound : t.drawing.sheetsHelp}</p>}
        {sheets && (
          <p role="status">
            <Icon name={sheets.loose === 0 ? 'settled' : 'lacking'} />{' '}
            {sheets.loose === 0 ? t.drawing.sheetsMeet : t.drawing.sheetsLoose(sheets.loose)}{' '}
            {sheets.widestGapMm > SAID_GAP_MM && t.drawing.sheetsGap(formatLength(sheets.widestGapMm, units))}
          </p>
        )}
        {!sheets && !isUnfound && (
          <button type="button" onClick={() => onSheets('find')}>
            {t.drawing.sheetsFind}
          </button>
        )}
        {apart && (
          <Folded title={t.drawing.board} isOpen={isUnfound || (sheets && isFree(sheets.layout)) || false}>
            <SheetsByHand
              key={sheets ? JSON.stringify(sheets.layout) : 'apart'}
              apart={apart}
              layout={sheets?.layout ?? null}
              onSheets={onSheets}
            />
          </Folded>
        )}
        {(sheets || isUnfound) && (
          <SheetMap
            key={grid ? writeGrid(grid.grid) : 'unfound'}
            layout={grid ?? startingLayout(withLines)}
            pages={pages.map(({ number }) => number)}
            onSheets={onSheets}
          />
        )}
        {sheets && (
          <button type="button" class="quiet" onClick={() => onSheets(undefined)}>
            {t.drawing.sheetsApart}
          </button>
        )}
      </div>
    </details>
  );
}

interface FoldedProps {
  readonly title: string;
  readonly isOpen: boolean;
  readonly children: ComponentChildren;
}

/** What is made only when it is opened: a board of a hundred sheets takes a moment. */
function Folded({ title, isOpen, children }: FoldedProps) {
  const [open, setOpen] = useState(isOpen);
  return (
    <details class="help" open={open} onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>{title}</summary>
      {open && children}
    </details>
  );
}

/** Gaps at a seam that are worth a word. Millimetres. */
const SAID_GAP_MM = 0.1;

/** All pages in one row, used to their edges: a start for typing. */
function startingLayout(pages: readonly DrawingPage[]): GridLayout {
  const [first] = pages;
  return {
    grid: [pages.map(({ number }) => number)],
    window: { minX: 0, minY: 0, maxX: first?.widthMm ?? 0, maxY: first?.heightMm ?? 0 },
    overlapMm: 0,
  };
}

interface SheetMapProps {
  readonly layout: GridLayout;
  readonly pages: readonly number[];
  readonly onSheets: (sheets: SheetLayout) => void;
}

/** The map of the sheets as text, a line a row, and what of each page counts. */
function SheetMap({ layout, pages, onSheets }: SheetMapProps) {
  const [text, setText] = useState(writeGrid(layout.grid));
  const [window, setWindow] = useState(layout.window);
  const [overlapMm, setOverlap] = useState(layout.overlapMm);
  const [fault, setFault] = useState<string | null>(null);
  const lay = (): void => {
    try {
      const grid = readGrid(text, pages);
      const least = Math.min(window.maxX - window.minX, window.maxY - window.minY);
      if (!(least > 0 && overlapMm < least / 2)) throw new RangeError(t.drawing.sheetsTooSmall);
      setFault(null);
      onSheets({ grid, window, overlapMm });
    } catch (error) {
      if (!(error instanceof RangeError)) throw error;
      setFault(errorInWords(error, language));
    }
  };
  return (
    <>
      <label class="field">
        <span>{t.drawing.sheetsMap}</span>
        <textarea
          class="sheet-map"
          rows={Math.min(12, Math.max(3, layout.grid.length + 1))}
          value={text}
          spellcheck={false}
          aria-invalid={fault !== null}
          onInput={(event) => setText(event.currentTarget.value)}
        />
        <span class="field-help">{t.drawing.sheetsMapHelp}</span>
      </label>
      <div class="row">
        <WindowFields window={window} onChange={setWindow} />
        <LengthField label={t.drawing.sheetsOverlap} mm={overlapMm} allowZero onChange={setOverlap} />
      </div>
      {fault !== null && (
        <p class="field-fault" role="alert">
          {fault}
        </p>
      )}
      <button type="button" onClick={lay}>
        {t.drawing.sheetsLay}
      </button>
    </>
  );
}
