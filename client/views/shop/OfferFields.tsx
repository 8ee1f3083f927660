import { useState } from 'preact/hooks';
import type { Offer } from '../../../pattern/exchange/whatToBuy.ts';
import { parseLength } from '../../../pattern/units/index.ts';
import { CountField, LengthField, PriceField } from '../../fields/NumberFields.tsx';
import { NameField, TextField } from '../../fields/TextField.tsx';
import { t } from '../../strings/index.ts';
import { formatForField } from '../../strings/lengths.ts';
import { useProject } from '../shared/hooks.ts';
import { Icon } from '../shared/Icon.tsx';

interface OfferFieldsProps {
  readonly offer: Offer;
  readonly onChange: (offer: Offer) => void;
  readonly onRemove: () => void;
}

/** One thing a shop has. */
export function OfferFields({ offer, onChange, onRemove }: OfferFieldsProps) {
  return (
    <fieldset class="offer" aria-label={offer.name}>
      <div class="row">
        <NameField label={t.shop.name} value={offer.name} onChange={(name) => onChange({ ...offer, name })} />
        {offer.kind === 'roll' ? (
          <>
            <LengthField
              label={t.shop.width}
              mm={offer.widthMm}
              onChange={(widthMm) => onChange({ ...offer, widthMm })}
            />
            <PriceField
              label={t.shop.price}
              cents={offer.priceCentsPerMetre}
              onChange={(priceCentsPerMetre) => onChange({ ...offer, priceCentsPerMetre })}
            />
            <LengthField
              label={t.shop.step}
              mm={offer.stepMm}
              onChange={(stepMm) => onChange({ ...offer, stepMm })}
            />
            <LeftField lengths={offer.leftMm} onChange={(leftMm) => onChange({ ...offer, leftMm })} />
          </>
        ) : (
          <>
            <LengthField
              label={t.shop.along}
              mm={offer.alongMm}
              onChange={(alongMm) => onChange({ ...offer, alongMm })}
            />
            <LengthField
              label={t.shop.across}
              mm={offer.acrossMm}
              onChange={(acrossMm) => onChange({ ...offer, acrossMm })}
            />
            <PriceField
              label={t.shop.sheetPrice}
              cents={offer.priceCents}
              onChange={(priceCents) => onChange({ ...offer, priceCents })}
            />
            <CountField
              label={t.shop.leftSheets}
              count={offer.left ?? 0}
              most={200}
              onChange={(left) => onChange({ ...offer, left: left === 0 ? null : left })}
            />
          </>
        )}
        <button type="button" class="quiet" aria-label={t.shop.removeOf(offer.name)} onClick={onRemove}>
          <Icon name="close" />
          {t.shop.remove}
        </button>
      </div>
      {offer.kind === 'sheet' && <p class="field-help">{t.shop.leftSheetsHelp}</p>}
    </fieldset>
  );
}

interface LeftFieldProps {
  readonly lengths: readonly number[];
  readonly onChange: (lengths: readonly number[]) => void;
}

/** Lengths that are left at the shop, several with semicolons between them. */
function LeftField({ lengths, onChange }: LeftFieldProps) {
  const { units } = useProject();
  const [typed, setTyped] = useState<string | null>(null);
  const shown = typed ?? lengths.map((mm) => formatForField(mm, units)).join('; ');
  const read = (text: string): number[] | string => {
    const found: number[] = [];
    for (const part of text.split(';')) {
      if (part.trim() === '') continue;
      const parsed = parseLength(part, units);
      if (!parsed.ok) return part.trim();
      found.push(parsed.mm);
    }
    return found;
  };
  const now = read(shown);
  return (
    <TextField
      label={t.shop.left}
      help={t.shop.leftHelp}
      value={shown}
      fault={typeof now === 'string' ? t.shop.leftFault(now) : null}
      onChange={(text) => {
        setTyped(text);
        const next = read(text);
        if (typeof next !== 'string') onChange(next);
      }}
    />
  );
}
