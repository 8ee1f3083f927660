import type { Cloth, Roll } from '../../../pattern/exchange/project.ts';
import { Choice, Select, Tick } from '../../fields/Choice.tsx';
import { LengthField, PriceField } from '../../fields/NumberFields.tsx';
import { NameField, TextField } from '../../fields/TextField.tsx';
import { changeCloth, changeRoll, copyCloth, removeCloth } from '../../state/clothCommands.ts';
import { t } from '../../strings/index.ts';
import { useAddress, useGo, useProject, useSession } from '../shared/hooks.ts';
import { Icon } from '../shared/Icon.tsx';
import { RemnantShape } from './RemnantShape.tsx';

/** Everything about one cloth: its measure, and the rules it lays on the pieces. */
export function ClothCard({ cloth }: { readonly cloth: Cloth }) {
  const session = useSession();
  const go = useGo();
  const address = useAddress();
  const copy = (): void => {
    const command = copyCloth(cloth, t.common.copyName(cloth.name));
    session.do(command);
    go('cloths', command.id);
  };
  const remove = (): void => {
    session.do(removeCloth(cloth));
    session.announce(t.pieces.removed(cloth.name));
    go('cloths');
  };
  return (
    <article class="detail" aria-label={cloth.name}>
      <a class="back" href={address('cloths')}>
        <Icon name="back" />
        {t.cloth.back}
      </a>
      <div class="detail-head">
        <NameField
          label={t.common.name}
          value={cloth.name}
          onChange={(name) => session.do(changeCloth(cloth, { name }, `cloth name ${cloth.id}`))}
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
      {cloth.kind === 'roll' ? <RollMeasures roll={cloth} /> : <RemnantShape remnant={cloth} />}
      <RulesPart cloth={cloth} />
      <MorePart cloth={cloth} />
    </article>
  );
}

function RollMeasures({ roll }: { readonly roll: Roll }) {
  const session = useSession();
  const set = (patch: Parameters<typeof changeRoll>[1]): void => session.do(changeRoll(roll, patch));
  return (
    <fieldset class="part">
      <legend>{t.cloth.measures}</legend>
      <div class="fields">
        <LengthField
          label={t.cloth.width}
          help={t.cloth.widthHelp}
          mm={roll.widthMm}
          onChange={(widthMm) => set({ widthMm })}
        />
        <LengthField
          label={t.cloth.selvedge}
          help={t.cloth.selvedgeHelp}
          allowZero
          mm={roll.selvedgeMm}
          onChange={(selvedgeMm) => set({ selvedgeMm })}
        />
        <LengthField
          label={t.cloth.squaring}
          help={t.cloth.squaringHelp}
          allowZero
          mm={roll.squaringMm}
          onChange={(squaringMm) => set({ squaringMm })}
        />
        <LengthField
          label={t.cloth.shopStep}
          help={t.cloth.shopStepHelp}
          mm={roll.shopStepMm}
          onChange={(shopStepMm) => set({ shopStepMm })}
        />
        <LengthField
          label={t.cloth.available}
          help={t.cloth.availableHelp}
          mm={roll.availableMm}
          onChange={(availableMm) => set({ availableMm })}
          onClear={() => set({ availableMm: null })}
        />
      </div>
      <Tick
        label={t.cloth.foldable}
        help={t.cloth.foldableHelp}
        on={roll.foldable}
        onChange={(foldable) => set({ foldable })}
      />
    </fieldset>
  );
}

const TURNS = ['grain', 'quarter', 'free'] as const;
const PRINT_UPS = ['none', 'away', 'back', 'left', 'right'] as const;

function RulesPart({ cloth }: { readonly cloth: Cloth }) {
  const session = useSession();
  const set = (patch: Parameters<typeof changeCloth>[1]): void => session.do(changeCloth(cloth, patch));
  return (
    <fieldset class="part">
      <legend>{t.cloth.rules}</legend>
      <Choice
        label={t.cloth.turn}
        value={cloth.turn}
        options={TURNS.map((value) => ({
          value,
          label: t.cloth.turns[value],
          help: t.cloth.turnHelp[value],
        }))}
        onChange={(turn) => set({ turn })}
      />
      <Choice
        label={t.cloth.nap}
        help={t.cloth.napHelp}
        value={cloth.nap}
        options={(['none', 'oneWay'] as const).map((value) => ({ value, label: t.cloth.naps[value] }))}
        onChange={(nap) => set({ nap })}
      />
      <Select
        label={t.cloth.printUp}
        help={t.cloth.printUpHelp}
        value={cloth.printUp}
        options={PRINT_UPS.map((value) => ({ value, label: t.cloth.printUps[value] }))}
        onChange={(printUp) => set({ printUp })}
      />
      <Tick
        label={t.cloth.reversible}
        help={t.cloth.reversibleHelp}
        on={cloth.reversible}
        onChange={(reversible) => set({ reversible })}
      />
      <div class="fields">
        <LengthField
          label={t.cloth.gap}
          help={t.cloth.gapHelp}
          allowZero
          mm={cloth.gapMm}
          onChange={(gapMm) => set({ gapMm })}
        />
        <LengthField
          label={t.cloth.edgeMargin}
          help={t.cloth.edgeMarginHelp}
          allowZero
          mm={cloth.edgeMarginMm}
          onChange={(edgeMarginMm) => set({ edgeMarginMm })}
        />
      </div>
    </fieldset>
  );
}

function MorePart({ cloth }: { readonly cloth: Cloth }) {
  const session = useSession();
  const { materials } = useProject();
  const role = materials.find((material) => material.id === cloth.materialId)?.role;
  // Vinyl, foam and the like: what has no grain is hardly ever a woven cloth.
  const isSynthetic = role === 'foam' || cloth.turn !== 'grain';
  return (
    <fieldset class="part">
      <legend>{t.cloth.more}</legend>
      <div class="fields">
        <Select
          label={t.cloths.material}
          value={cloth.materialId}
          options={materials.map((material) => ({ value: material.id, label: material.name }))}
          onChange={(materialId) => session.do(changeCloth(cloth, { materialId }))}
        />
        {cloth.kind === 'roll' && (
          <PriceField
            label={t.cloth.price}
            help={t.cloth.priceHelp}
            cents={cloth.priceCentsPerMetre}
            onChange={(priceCentsPerMetre) => session.do(changeCloth(cloth, { priceCentsPerMetre }))}
          />
        )}
      </div>
      <TextField
        label={t.common.notes}
        value={cloth.notes}
        lines={2}
        maxLength={20_000}
        onChange={(notes) => session.do(changeCloth(cloth, { notes }, `cloth notes ${cloth.id}`))}
      />
      <p class="field-help">{t.cloth.blades}</p>
      {isSynthetic && <p class="field-help">{t.cloth.heat}</p>}
    </fieldset>
  );
}
