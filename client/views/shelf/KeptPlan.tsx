import { render } from 'preact';
import { boundingBox } from '../../../nesting/geometry/rings.ts';
import type { Project } from '../../../pattern/exchange/project.ts';
import type { ShelfEntry, ShelfPlan } from '../../../pattern/exchange/shelf.ts';
import { writeRoute } from '../../state/route.ts';
import { showTime, t } from '../../strings/index.ts';
import { clothInWords } from '../cloths/ClothsStep.tsx';
import { Icon } from '../shared/Icon.tsx';
import { shelfHere } from './shelfHere.ts';

/** Space around a sketch, as a share of its longer side. */
const SKETCH_EDGE = 0.02;

/** The cloth and what lies on it, coarsely. */
function PlanSketch({ plan }: { readonly plan: ShelfPlan }) {
  const { minX, minY, maxX, maxY } = boundingBox(plan.outline);
  const edge = SKETCH_EDGE * Math.max(maxX - minX, maxY - minY);
  const path = (ring: ShelfPlan['outline']): string =>
    `M${ring.map(([x, y]) => `${x} ${maxY + minY - y}`).join('L')}Z`;
  return (
    <svg
      class="plan-sketch"
      viewBox={`${minX - edge} ${minY - edge} ${maxX - minX + 2 * edge} ${maxY - minY + 2 * edge}`}
      role="img"
      aria-label={t.shelf.plan.sketch(plan.name)}
    >
      <path class="sketch-cloth" d={path(plan.outline)} vector-effect="non-scaling-stroke" />
      {plan.placed.map((ring, i) => (
        <path key={String(i)} class="sketch-piece" d={path(ring)} vector-effect="non-scaling-stroke" />
      ))}
    </svg>
  );
}

const piecesOf = ({ pieces }: ShelfPlan): string =>
  pieces.map(({ name, copies }) => (copies > 1 ? `${copies} × ${name}` : name)).join(', ');

interface KeptPlanProps {
  readonly entry: ShelfEntry;
  readonly units: Project['units'];
}

/** The plan that is kept with a piece of cloth: what it is for, the way to it, a label to pin on. */
export function KeptPlan({ entry, units }: KeptPlanProps) {
  const { plan } = entry;
  if (!plan) return null;
  const address = writeRoute({ projectId: plan.projectId, step: 'plan', open: null });
  const drop = (): void =>
    void shelfHere.do({ kind: 'plan', ids: [entry.id], plan: null }, t.shelf.plan.dropped(entry.cloth.name));
  return (
    <section class="kept-plan" aria-label={t.shelf.plan.of(entry.cloth.name)}>
      <PlanSketch plan={plan} />
      <div class="kept-plan-text">
        <p>
          <strong>{t.shelf.plan.meantFor(plan.projectName)}</strong> {plan.name}
        </p>
        <p class="card-fact">
          {piecesOf(plan)} · {showTime(plan.at)}
        </p>
        <div class="buttons">
          <a href={address}>{t.shelf.plan.open}</a>
          <button
            type="button"
            aria-label={t.shelf.plan.labelOf(entry.cloth.name)}
            onClick={() => printLabel(entry, units)}
          >
            <Icon name="print" />
            {t.shelf.plan.label}
          </button>
          <button
            type="button"
            class="quiet"
            aria-label={t.shelf.plan.dropOf(entry.cloth.name)}
            onClick={drop}
          >
            {t.shelf.plan.drop}
          </button>
        </div>
      </div>
    </section>
  );
}

/** Prints a label to pin to the cloth: what it is, where it belongs, what it is meant for, with the sketch. */
function printLabel(entry: ShelfEntry, units: Project['units']): void {
  const host = document.createElement('div');
  host.className = 'label-print';
  document.body.append(host);
  render(<ShelfLabel entry={entry} units={units} />, host);
  document.body.classList.add('prints-label');
  const end = (): void => {
    document.body.classList.remove('prints-label');
    render(null, host);
    host.remove();
  };
  addEventListener('afterprint', end, { once: true });
  print();
}

function ShelfLabel({ entry, units }: KeptPlanProps) {
  const { cloth, fibre, place, plan } = entry;
  const facts = [fibre, clothInWords(cloth, units), place === '' ? '' : t.shelf.place(place)];
  return (
    <article>
      <h1>{cloth.name}</h1>
      <p>{facts.filter((fact) => fact !== '').join(' · ')}</p>
      {plan && (
        <>
          <h2>
            {t.shelf.plan.meantFor(plan.projectName)} {plan.name}
          </h2>
          <p>{piecesOf(plan)}</p>
          <PlanSketch plan={plan} />
          <p>{showTime(plan.at)}</p>
        </>
      )}
    </article>
  );
}
