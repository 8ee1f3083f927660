import type { ClothLay, Project } from '../../../../pattern/exchange/project.ts';
import type { CopyId, HandFault, HandLay } from '../../../../pattern/lay/hand/handLay.ts';
import { t } from '../../../strings/index.ts';
import { formatLength } from '../../../strings/lengths.ts';
import { Icon } from '../../shared/Icon.tsx';
import { faultWords } from './handState.ts';

interface RulesPanelProps {
  readonly hand: HandLay;
  readonly lay: ClothLay;
  readonly faults: readonly HandFault[];
  readonly units: Project['units'];
  readonly show: (id: CopyId) => void;
}

/** More broken rules than this are counted, not listed. */
const MOST_LISTED = 6;

/** Whether everything lies as it may, and if not, what is wrong and where. */
export function RulesPanel({ hand, lay, faults, units, show }: RulesPanelProps) {
  const isFine = faults.length === 0;
  return (
    <section class={`panel verdict-panel ${isFine ? 'good' : 'bad'}`} aria-label={t.hand.rules}>
      <div role="status">
        <p>
          <Icon name={isFine ? 'settled' : 'lacking'} />{' '}
          <strong>{isFine ? t.hand.rulesKept : t.hand.rulesBroken(faults.length)}</strong>{' '}
          {hand.cloth.kind === 'roll' && (
            <span class="faint">{t.hand.fitsLength(formatLength(Math.round(lay.usedMm), units))}</span>
          )}
        </p>
      </div>
      {!isFine && (
        <ul class="plain-list">
          {faults.slice(0, MOST_LISTED).map((fault, i) => {
            const [first] = fault.copies;
            return (
              <li key={`${i} ${fault.kind}`} class="row">
                <span>{faultWords(hand, fault, units)}</span>
                {first && (
                  <button type="button" class="quiet" onClick={() => show(first)}>
                    {t.hand.goThere}
                  </button>
                )}
              </li>
            );
          })}
        </ul>
      )}
    </section>
  );
}
