import { presetOf } from '../../../pattern/cloths/presets.ts';
import type { Cloth } from '../../../pattern/exchange/project.ts';
import { Select } from '../../fields/Choice.tsx';
import { PriceField } from '../../fields/NumberFields.tsx';
import { NameField, TextField } from '../../fields/TextField.tsx';
import { changeCloth, copyCloth, removeCloth } from '../../state/clothCommands.ts';
import { t } from '../../strings/index.ts';
import { useAddress, useGo, useProject, useSession } from '../shared/hooks.ts';
import { Icon } from '../shared/Icon.tsx';
import { BorderPart } from './BorderPart.tsx';
import { Flaws } from './Flaws.tsx';
import { PresetSource } from './PresetSource.tsx';
import { RemnantShape } from './RemnantShape.tsx';
import { RepeatPart } from './RepeatPart.tsx';
import { RollMeasures, ShrinkagePart } from './RollMeasures.tsx';
import { RulesPart } from './RulesPart.tsx';

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
      {/* On a phone the card is all there is of the step. */}
      <h2 class="sr">{cloth.name}</h2>
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
      <PresetSource preset={presetOf(cloth.preset)} />
      {cloth.kind === 'roll' ? <RollMeasures roll={cloth} /> : <RemnantShape remnant={cloth} />}
      <RulesPart cloth={cloth} />
      <RepeatPart cloth={cloth} />
      <BorderPart cloth={cloth} />
      <ShrinkagePart cloth={cloth} />
      {cloth.kind === 'roll' && (
        <div class="part">
          <Flaws cloth={cloth} />
        </div>
      )}
      <MorePart cloth={cloth} />
    </article>
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
          <div data-spot="price">
            <PriceField
              label={t.cloth.price}
              help={t.cloth.priceHelp}
              cents={cloth.priceCentsPerMetre}
              onChange={(priceCentsPerMetre) => session.do(changeCloth(cloth, { priceCentsPerMetre }))}
            />
          </div>
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
