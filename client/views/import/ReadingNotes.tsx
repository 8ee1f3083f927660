import type { ReadDrawing } from '../../../pattern/reading/drawing.ts';
import { warningText } from '../../reading/noticeWords.ts';
import { t } from '../../strings/index.ts';

/** What was noticed while reading, to be unfolded. */
export function ReadingNotes({ reading }: { readonly reading: ReadDrawing }) {
  // What is left out with a layer stands beside the layers.
  const hasLayers = (reading.layers ?? []).length > 1;
  const notes = [
    ...reading.warnings
      .filter(({ code }) => code !== 'refused' && !(code === 'layer' && hasLayers))
      .map(warningText),
    ...reading.refused.map((refused) => `${t.drawing.refused}: ${refused.text}`),
  ];
  if (notes.length === 0) return null;
  return (
    <details class="help">
      <summary>
        {t.drawing.warnings} ({notes.length})
        {reading.refused.length > 0 && `; ${t.drawing.refusedCount(reading.refused.length)}`}
      </summary>
      <ul>
        {notes.map((note) => (
          <li key={note}>{note}</li>
        ))}
      </ul>
    </details>
  );
}
