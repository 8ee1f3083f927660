import type { DrawingPage, ReadDrawing } from '../../../pattern/reading/drawing.ts';
import { Tick } from '../../fields/Choice.tsx';
import { warningText } from '../../reading/noticeWords.ts';
import { t } from '../../strings/index.ts';

interface PartsReadProps {
  readonly reading: ReadDrawing;
  /** All pages of a PDF, also those not read this time. */
  readonly pages: readonly DrawingPage[];
  readonly onLayers: (ids: readonly string[]) => void;
  readonly onPages: (numbers: readonly number[]) => void;
}

/** Which layers and pages of a file are read: often each layer holds one size, and only some pages the pattern. */
export function PartsRead({ reading, pages, onLayers, onPages }: PartsReadProps) {
  const layers = reading.layers ?? [];
  const readLayers = layers.filter((layer) => layer.read).map((layer) => layer.id);
  const readPages = (reading.pages ?? []).map((page) => page.number);
  // Sheets put together are chosen by their map.
  const hasPages = reading.format === 'pdf' && pages.length > 1 && !reading.sheets;
  if (layers.length < 2 && !hasPages) return null;
  const toggled = <Id,>(all: readonly Id[], read: readonly Id[], id: Id, on: boolean): Id[] =>
    all.filter((other) => (other === id ? on : read.includes(other)));
  return (
    <details class="help" open>
      <summary>{t.drawing.parts}</summary>
      {layers.length > 1 && (
        <fieldset class="choice parts-read">
          <legend>{t.drawing.layers}</legend>
          {layers.map((layer) => (
            <Tick
              key={layer.id}
              label={layer.name}
              on={layer.read}
              disabled={layer.read && readLayers.length === 1}
              onChange={(on) =>
                onLayers(
                  toggled(
                    layers.map(({ id }) => id),
                    readLayers,
                    layer.id,
                    on,
                  ),
                )
              }
            />
          ))}
          {reading.warnings
            .filter(({ code }) => code === 'layer')
            .map(warningText)
            .map((text) => (
              <p key={text} class="field-help">
                {text}
              </p>
            ))}
        </fieldset>
      )}
      {hasPages && (
        <fieldset class="choice parts-read">
          <legend>{t.drawing.pages}</legend>
          {pages.map((page) => {
            const on = readPages.includes(page.number);
            return (
              <Tick
                key={page.number}
                label={t.drawing.pageOf(page.number, page.outlines)}
                on={on}
                disabled={on && readPages.length === 1}
                onChange={(next) =>
                  onPages(
                    toggled(
                      pages.map(({ number }) => number),
                      readPages,
                      page.number,
                      next,
                    ),
                  )
                }
              />
            );
          })}
        </fieldset>
      )}
      <p class="field-help">{t.drawing.partsHelp}</p>
    </details>
  );
}
