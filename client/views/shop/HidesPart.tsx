import { pieceIn, totals } from '../../../pattern/cutList/index.ts';
import {
  type ByAreaSale,
  byAreaSchema,
  type Material,
  type Project,
} from '../../../pattern/exchange/project.ts';
import { hidesToBuy } from '../../../pattern/lay/shop/byArea.ts';
import { MM2_PER_SQUARE_FOOT } from '../../../pattern/units/index.ts';
import { Tick } from '../../fields/Choice.tsx';
import { HideAreaField, PercentField, PriceField } from '../../fields/NumberFields.tsx';
import { setByArea } from '../../state/cutListCommands.ts';
import { pieceFacts } from '../../state/pieceFacts.ts';
import { showMoney, t } from '../../strings/index.ts';
import { formatArea, formatHideArea } from '../../strings/lengths.ts';
import { useSession } from '../shared/hooks.ts';

interface HidesPartProps {
  readonly project: Project;
  readonly material: Material;
}

/** Leather is bought by the area of hides nobody has seen yet: a range, not a layout. */
export function HidesPart({ project, material }: HidesPartProps) {
  const session = useSession();
  const sale = material.byArea;
  const change = (patch: Partial<ByAreaSale>, field: string): void => {
    if (sale) session.do(setByArea(material, { ...sale, ...patch }, `byArea ${material.id} ${field}`));
  };
  // Prices are kept for a square metre, and typed as the shop names them.
  const per = project.units === 'in' ? MM2_PER_SQUARE_FOOT / 1e6 : 1;
  return (
    <fieldset class="hides">
      <legend class="sr">{t.shop.hides}</legend>
      <Tick
        label={t.shop.hides}
        on={sale !== undefined}
        onChange={(isOn) => session.do(setByArea(material, isOn ? byAreaSchema.parse({}) : null))}
      />
      {sale && (
        <>
          <div class="row">
            <HideAreaField
              label={t.shop.hideSize}
              mm2={sale.hideMm2}
              onChange={(hideMm2) => change({ hideMm2 }, 'size')}
            />
            <PercentField
              label={t.shop.yieldLow}
              percent={sale.yieldLowPercent}
              most={100}
              tooMuch={t.shop.yieldTooMuch}
              onChange={(percent) => change({ yieldLowPercent: Math.max(1, percent) }, 'low')}
            />
            <PercentField
              label={t.shop.yieldHigh}
              percent={sale.yieldHighPercent}
              most={100}
              tooMuch={t.shop.yieldTooMuch}
              onChange={(percent) => change({ yieldHighPercent: Math.max(1, percent) }, 'high')}
            />
            <PriceField
              label={project.units === 'in' ? t.shop.hidePrice.ft2 : t.shop.hidePrice.m2}
              cents={sale.priceCentsPerM2 === null ? null : Math.round(sale.priceCentsPerM2 * per)}
              onChange={(cents) =>
                change({ priceCentsPerM2: cents === null ? null : Math.round(cents / per) }, 'price')
              }
            />
          </div>
          <Range project={project} material={material} sale={sale} />
          <p class="field-help">{t.shop.hidesHelp}</p>
          <p class="field-help">{t.shop.hidesSource}</p>
        </>
      )}
    </fieldset>
  );
}

/** A piece that takes more of a hide than this cannot be fitted in between flaws. */
const LARGE_SHARE = 0.1;

function Range({ project, material, sale }: HidesPartProps & { readonly sale: ByAreaSale }) {
  const { units } = project;
  const net = totals(project).find(({ materialId }) => materialId === material.id)?.areaMm2 ?? 0;
  if (net === 0) return null;
  const { fromMm2, toMm2, fromHides, toHides } = hidesToBuy(
    net,
    sale.yieldLowPercent,
    sale.yieldHighPercent,
    sale.hideMm2,
  );
  const area = (mm2: number): string => formatHideArea(mm2, units);
  const cost = (mm2: number): string => showMoney(Math.ceil((mm2 / 1e6) * (sale.priceCentsPerM2 ?? 0)));
  const large = project.cutList.flatMap(({ pieceId, materialId, plain, mirrored, onFold }) => {
    const piece = project.pieces.find(({ id }) => id === pieceId);
    if (materialId !== material.id || plain + mirrored + onFold === 0 || !piece) return [];
    const sized = pieceIn(piece, material);
    const size = sized.ok ? pieceFacts(sized.piece).wholeSize : null;
    return size && size.widthMm * size.heightMm > LARGE_SHARE * sale.hideMm2 ? [piece.name] : [];
  });
  return (
    <div role="status">
      <p>
        <strong>{t.shop.hidesNeed(formatArea(net, units), area(fromMm2), area(toMm2))}</strong>{' '}
        {t.shop.hidesCount(fromHides, toHides, area(sale.hideMm2))}{' '}
        {sale.priceCentsPerM2 !== null && t.shop.hidesCost(cost(fromMm2), cost(toMm2))}
      </p>
      {large.length > 0 && <p>{t.shop.hidesLarge(large.join(', '))}</p>}
    </div>
  );
}
