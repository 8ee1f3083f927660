import type { Preset } from '../../../pattern/cloths/presets.ts';
import { t } from '../../strings/index.ts';

/** Where the figures of a preset come from, so that they can be judged. */
export function PresetSource({ preset }: { readonly preset: Preset | undefined }) {
  if (!preset) return null;
  return (
    <p class="field-help">
      {t.cloths.presetHelp[preset.id]}{' '}
      {preset.source === null ? (
        t.cloths.noSource
      ) : (
        <>
          {t.cloths.figuresFrom}{' '}
          <a href={preset.source.address} rel="noreferrer">
            {preset.source.title}
          </a>
        </>
      )}
    </p>
  );
}
