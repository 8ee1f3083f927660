import { boundingBox } from '../../../nesting/geometry/rings.ts';
import type { Cloth } from '../../../pattern/exchange/project.ts';
import { LengthField } from '../../fields/NumberFields.tsx';
import { changeFlaws } from '../../state/clothCommands.ts';
import { t } from '../../strings/index.ts';
import { useSession } from '../shared/hooks.ts';
import { Icon } from '../shared/Icon.tsx';

/** A new flaw starts with this side, in mm. */
const NEW_FLAW_MM = 40;
/** On a roll a new flaw starts so far from the cut end, in mm. */
const ON_ROLL_MM = 300;

type Ring = Cloth['flaws'][number];

const rectangle = (x: number, y: number, along: number, across: number): Ring => [
  [x, y],
  [x + along, y],
  [x + along, y + across],
  [x, y + across],
];

/** Stains, holes and misprints of a cloth, typed as boxes; one drawn with more corners becomes its box when changed. */
export function Flaws({ cloth }: { readonly cloth: Cloth }) {
  const session = useSession();
  const add = (): void => {
    const box =
      cloth.kind === 'remnant'
        ? boundingBox(cloth.outline)
        : { minX: ON_ROLL_MM, maxX: ON_ROLL_MM + NEW_FLAW_MM, minY: 0, maxY: cloth.widthMm };
    const x = Math.round((box.minX + box.maxX - NEW_FLAW_MM) / 2);
    const y = Math.round((box.minY + box.maxY - NEW_FLAW_MM) / 2);
    session.do(changeFlaws(cloth, [...cloth.flaws, rectangle(x, y, NEW_FLAW_MM, NEW_FLAW_MM)]));
  };
  const set = (index: number, x: number, y: number, along: number, across: number): void =>
    session.do(changeFlaws(cloth, cloth.flaws.with(index, rectangle(x, y, along, across))));
  return (
    <div data-spot="flaws" class="flaws">
      <h3>{t.cloth.flaws}</h3>
      <p class="field-help">{cloth.kind === 'roll' ? t.cloth.flawsOnRollHelp : t.cloth.flawsHelp}</p>
      <ol class="corners">
        {cloth.flaws.map((flaw, index) => {
          const at = boundingBox(flaw);
          const along = at.maxX - at.minX;
          const across = at.maxY - at.minY;
          return (
            // Flaws have no identity of their own but their place in the list.
            <li key={String(index)} class="flaw-row">
              <span class="corner-number" aria-hidden="true">
                {index + 1}
              </span>
              <LengthField
                label={t.cloth.flawAlong(index + 1)}
                shortLabel={index === 0 ? t.cloth.columnLeft : ''}
                allowZero
                mm={at.minX}
                onChange={(mm) => set(index, mm, at.minY, along, across)}
              />
              <LengthField
                label={t.cloth.flawAcross(index + 1)}
                shortLabel={index === 0 ? t.cloth.columnBelow : ''}
                allowZero
                mm={at.minY}
                onChange={(mm) => set(index, at.minX, mm, along, across)}
              />
              <LengthField
                label={t.cloth.flawLength(index + 1)}
                shortLabel={index === 0 ? t.cloth.columnLength : ''}
                mm={along}
                onChange={(mm) => set(index, at.minX, at.minY, mm, across)}
              />
              <LengthField
                label={t.cloth.flawWidth(index + 1)}
                shortLabel={index === 0 ? t.cloth.columnWidth : ''}
                mm={across}
                onChange={(mm) => set(index, at.minX, at.minY, along, mm)}
              />
              <button
                type="button"
                class="quiet"
                aria-label={t.cloth.removeFlaw(index + 1)}
                onClick={() => session.do(changeFlaws(cloth, cloth.flaws.toSpliced(index, 1)))}
              >
                <Icon name="close" />
              </button>
            </li>
          );
        })}
      </ol>
      <button type="button" onClick={add}>
        <Icon name="plus" />
        {t.cloth.addFlaw}
      </button>
    </div>
  );
}
