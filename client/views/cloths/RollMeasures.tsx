import { presetOf } from '../../../pattern/cloths/presets.ts';
import {
  type Cloth,
  MOST_RESERVE_PERCENT,
  MOST_SHRINKAGE_PERCENT,
  type Roll,
} from '../../../pattern/exchange/project.ts';
import { Tick } from '../../fields/Choice.tsx';
import { LengthField, PercentField } from '../../fields/NumberFields.tsx';
import { changeCloth, changeRoll } from '../../state/clothCommands.ts';
import { t } from '../../strings/index.ts';
import { useSession } from '../shared/hooks.ts';
import { Icon } from '../shared/Icon.tsx';

/** Widths, ends and steps of a roll, and where it must be kept clear. */
export function RollMeasures({ roll }: { readonly roll: Roll }) {
  const session = useSession();
  const set = (patch: Parameters<typeof changeRoll>[1]): void => session.do(changeRoll(roll, patch));
  const isTooWide = roll.usableWidthMm !== null && roll.usableWidthMm > roll.widthMm;
  return (
    <fieldset data-spot="measures" class="part">
      <legend>{t.cloth.measures}</legend>
      <div class="fields">
        <LengthField
          label={t.cloth.width}
          help={t.cloth.widthHelp}
          mm={roll.widthMm}
          onChange={(widthMm) => set({ widthMm })}
        />
        {roll.usableWidthMm === null && (
          <LengthField
            label={t.cloth.selvedge}
            help={t.cloth.selvedgeHelp}
            allowZero
            mm={roll.selvedgeMm}
            onChange={(selvedgeMm) => set({ selvedgeMm })}
          />
        )}
        <LengthField
          label={t.cloth.usableWidth}
          help={t.cloth.usableWidthHelp}
          mm={roll.usableWidthMm}
          onChange={(usableWidthMm) => set({ usableWidthMm })}
          onClear={() => set({ usableWidthMm: null })}
        />
        <LengthField
          label={t.cloth.squaring}
          help={t.cloth.squaringHelp}
          allowZero
          mm={roll.squaringMm}
          onChange={(squaringMm) => set({ squaringMm })}
        />
        <LengthField
          label={t.cloth.squaringEnd}
          help={t.cloth.squaringEndHelp}
          allowZero
          mm={roll.squaringEndMm}
          onChange={(squaringEndMm) => set({ squaringEndMm })}
        />
        <LengthField
          label={t.cloth.shopStep}
          help={t.cloth.shopStepHelp}
          mm={roll.shopStepMm}
          onChange={(shopStepMm) => set({ shopStepMm })}
        />
        <LengthField
          label={t.cloth.reserveMm}
          help={t.cloth.reserveHelp}
          allowZero
          mm={roll.reserveMm}
          onChange={(reserveMm) => set({ reserveMm })}
        />
        <PercentField
          label={t.cloth.reservePercent}
          percent={roll.reservePercent}
          most={MOST_RESERVE_PERCENT}
          tooMuch={t.cloth.reserveTooMuch(MOST_RESERVE_PERCENT)}
          onChange={(reservePercent) => set({ reservePercent })}
        />
        <LengthField
          label={t.cloth.available}
          help={t.cloth.availableHelp}
          mm={roll.availableMm}
          onChange={(availableMm) => set({ availableMm })}
          onClear={() => set({ availableMm: null })}
        />
      </div>
      {isTooWide && (
        <p class="banner bad" role="alert">
          <Icon name="lacking" />
          <span>{t.cloth.usableTooWide}</span>
        </p>
      )}
      <div data-spot="foldable">
        <Tick
          label={t.cloth.foldable}
          help={t.cloth.foldableHelp}
          on={roll.foldable}
          onChange={(foldable) => set({ foldable })}
        />
      </div>
      <FadedLines roll={roll} />
    </fieldset>
  );
}

/** How much a cloth shrinks when it is washed before it is cut. */
export function ShrinkagePart({ cloth }: { readonly cloth: Cloth }) {
  const session = useSession();
  const set = (patch: Parameters<typeof changeCloth>[1]): void => session.do(changeCloth(cloth, patch));
  const told = presetOf(cloth.preset)?.shrinks;
  return (
    <fieldset class="part">
      <legend>{t.cloth.shrinkage}</legend>
      <p class="field-help">
        {t.cloth.shrinkageHelp}
        {told && (
          <>
            {' '}
            {t.cloth.shrinkageTold(told.from, told.to)}{' '}
            <a href={told.source} rel="noreferrer">
              {t.cloth.source}
            </a>
          </>
        )}
      </p>
      <div class="fields">
        <PercentField
          label={t.cloth.shrinkAlong}
          percent={cloth.shrinkAlongPercent}
          most={MOST_SHRINKAGE_PERCENT}
          tooMuch={t.cloth.shrinksTooMuch(MOST_SHRINKAGE_PERCENT)}
          onChange={(shrinkAlongPercent) => set({ shrinkAlongPercent })}
        />
        <PercentField
          label={t.cloth.shrinkAcross}
          percent={cloth.shrinkAcrossPercent}
          most={MOST_SHRINKAGE_PERCENT}
          tooMuch={t.cloth.shrinksTooMuch(MOST_SHRINKAGE_PERCENT)}
          onChange={(shrinkAcrossPercent) => set({ shrinkAcrossPercent })}
        />
      </div>
    </fieldset>
  );
}

/** A new faded line lies along the fold of the bolt, this wide, in mm. */
const NEW_FADED_MM = 10;

function FadedLines({ roll }: { readonly roll: Roll }) {
  const session = useSession();
  const set = (fadedLines: Roll['fadedLines']): void => session.do(changeRoll(roll, { fadedLines }));
  const middle = roll.widthMm / 2;
  return (
    <div data-spot="faded" class="flaws">
      <h3>{t.cloth.faded}</h3>
      <p class="field-help">{t.cloth.fadedHelp}</p>
      <ol class="corners">
        {roll.fadedLines.map(({ fromMm, toMm }, index) => (
          // Lines have no identity of their own but their place in the list.
          <li key={String(index)} class="flaw-row">
            <span class="corner-number" aria-hidden="true">
              {index + 1}
            </span>
            <LengthField
              label={t.cloth.fadedFrom(index + 1)}
              shortLabel={index === 0 ? t.cloth.columnFrom : ''}
              allowZero
              mm={fromMm}
              onChange={(mm) => set(roll.fadedLines.with(index, { fromMm: mm, toMm }))}
            />
            <LengthField
              label={t.cloth.fadedTo(index + 1)}
              shortLabel={index === 0 ? t.cloth.columnTo : ''}
              allowZero
              mm={toMm}
              onChange={(mm) => set(roll.fadedLines.with(index, { fromMm, toMm: mm }))}
            />
            <button
              type="button"
              class="quiet"
              aria-label={t.cloth.removeFaded(index + 1)}
              onClick={() => set(roll.fadedLines.toSpliced(index, 1))}
            >
              <Icon name="close" />
            </button>
          </li>
        ))}
      </ol>
      <button
        type="button"
        onClick={() =>
          set([...roll.fadedLines, { fromMm: middle - NEW_FADED_MM / 2, toMm: middle + NEW_FADED_MM / 2 }])
        }
      >
        <Icon name="plus" />
        {t.cloth.addFaded}
      </button>
    </div>
  );
}
