import { type Border, borderSchema, type Cloth } from '../../../pattern/exchange/project.ts';
import { Select, Tick } from '../../fields/Choice.tsx';
import { LengthField } from '../../fields/NumberFields.tsx';
import { changeCloth } from '../../state/clothCommands.ts';
import { t } from '../../strings/index.ts';
import { useSession } from '../shared/hooks.ts';

const SIDES = ['low', 'high', 'both'] as const;
/** A border begins with this, mm: the maker measures her own. */
const NEW_BORDER: Border = borderSchema.parse({ fromEdgeMm: 20, depthMm: 150 });

/** A border printed along an edge; which pieces sit on it is said with the pieces. */
export function BorderPart({ cloth }: { readonly cloth: Cloth }) {
  const session = useSession();
  const { border } = cloth;
  const set = (patch: Partial<Border>): void =>
    session.do(changeCloth(cloth, { border: { ...(border ?? NEW_BORDER), ...patch } }));
  return (
    <fieldset data-spot="border" class="part">
      <legend>{t.cloth.border}</legend>
      <Tick
        label={t.cloth.hasBorder}
        help={t.cloth.borderHelp}
        on={border !== null}
        onChange={(on) => session.do(changeCloth(cloth, { border: on ? NEW_BORDER : null }))}
      />
      {border && (
        <>
          <Select
            label={t.cloth.borderSide}
            value={border.side}
            options={SIDES.map((value) => ({ value, label: t.cloth.borderSides[value] }))}
            onChange={(side) => set({ side })}
          />
          <div class="fields">
            <LengthField
              label={t.cloth.borderFrom}
              help={t.cloth.borderFromHelp}
              allowZero
              mm={border.fromEdgeMm}
              onChange={(fromEdgeMm) => set({ fromEdgeMm })}
            />
            <LengthField
              label={t.cloth.borderDepth}
              help={t.cloth.borderDepthHelp}
              allowZero
              mm={border.depthMm}
              onChange={(depthMm) => set({ depthMm })}
            />
          </div>
          <Tick label={t.cloth.borderKeepOff} on={border.keepOff} onChange={(keepOff) => set({ keepOff })} />
        </>
      )}
    </fieldset>
  );
}
