import type { Piece, Project, VariantStep } from '../../../pattern/exchange/project.ts';
import { takeSteps, variantFault } from '../../../pattern/variants/index.ts';
import { Choice, Select } from '../../fields/Choice.tsx';
import { CountField, LengthField } from '../../fields/NumberFields.tsx';
import { addVariant, changeVariant, detachVariant } from '../../state/pieceCommands.ts';
import { pieceFacts } from '../../state/pieceFacts.ts';
import { language, t } from '../../strings/index.ts';
import { useAddress, useGo, useProject, useSession } from '../shared/hooks.ts';
import { Icon } from '../shared/Icon.tsx';
import { FoldBackFields, usualFold } from './FoldBackFields.tsx';
import { EdgeAllowances } from './LinePart.tsx';

type Kind = VariantStep['kind'];
const KINDS: readonly Kind[] = ['unfold', 'foldBack', 'allowance', 'mirror', 'lengthen', 'scale'];
/** By how much a variant is longer to begin with: 2 cm, or 3/4 in. */
const USUAL_LONGER_MM = { cm: 20, mm: 20, in: 19.05 } as const;

/** Other uses of a piece, each worked out from it. */
export function VariantsOf({ piece }: { readonly piece: Piece }) {
  const session = useSession();
  const project = useProject();
  const address = useAddress();
  const go = useGo();
  const variants = project.pieces.filter(({ variant }) => variant?.from === piece.id);
  const make = (kind: Kind): void => {
    const command = addVariant(piece, t.variant.nameOf(piece.name, t.variant.short[kind]), [
      firstStep(kind, piece, project.units),
    ]);
    session.do(command);
    go('pieces', command.id);
  };
  return (
    <fieldset class="part">
      <legend>{t.variant.title}</legend>
      {variants.length > 0 && (
        <ul class="plain-list">
          {variants.map((variant) => (
            <li key={variant.id}>
              <a href={address('pieces', variant.id)}>{variant.name}</a>
            </li>
          ))}
        </ul>
      )}
      <Select
        label={t.variant.make}
        hideLabel
        value=""
        options={[
          { value: '', label: `${t.variant.make} …` },
          ...kindsFor(piece).map((kind) => ({ value: kind, label: t.variant.kinds[kind] })),
        ]}
        onChange={(kind) => {
          if (kind !== '') make(kind);
        }}
      />
      <p class="field-help">{t.variant.lead}</p>
    </fieldset>
  );
}

/** Where a variant comes from and by which steps. */
export function VariantSteps({ piece }: { readonly piece: Piece }) {
  const session = useSession();
  const project = useProject();
  const address = useAddress();
  const { variant } = piece;
  if (!variant) return null;
  const from = project.pieces.find(({ id }) => id === variant.from);
  const fault = variantFault(project, piece, language);
  const { steps } = variant;
  // What each step starts from; behind one that can't be taken there is nothing to start from.
  const before = steps.map((_, index) => from && beforeStep(from, steps.slice(0, index)));
  const last = from && beforeStep(from, steps);
  const write = (next: readonly VariantStep[], together?: string): void =>
    session.do(changeVariant(piece, next, together));
  return (
    <fieldset class="part variant-steps" data-spot="variant">
      <legend>
        {t.variant.comesFrom} {from ? <a href={address('pieces', from.id)}>{from.name}</a> : '–'}
      </legend>
      {fault !== null && (
        <p class="warn" role="status">
          <Icon name="lacking" />
          {t.variant.stuck(fault.replace(/\.$/, ''))}
        </p>
      )}
      {steps.length === 0 ? (
        <p>{t.variant.noSteps}</p>
      ) : (
        <ol>
          {steps.map((step, index) => (
            // Steps have no identity of their own but their place.
            <li key={`${index} ${step.kind}`}>
              <fieldset class="variant-step">
                <legend>
                  {index + 1}. {t.variant.kinds[step.kind]}{' '}
                  <button
                    type="button"
                    class="quiet small"
                    aria-label={t.variant.removeStep(index + 1, t.variant.kinds[step.kind])}
                    onClick={() => write(steps.filter((_, at) => at !== index))}
                  >
                    <Icon name="close" />
                  </button>
                </legend>
                <StepFields
                  step={step}
                  before={before[index] ?? null}
                  onChange={(next) =>
                    write(
                      steps.map((old, at) => (at === index ? next : old)),
                      `step ${piece.id} ${index}`,
                    )
                  }
                />
              </fieldset>
            </li>
          ))}
        </ol>
      )}
      <div class="row">
        <Select
          label={t.variant.addStep}
          hideLabel
          value=""
          options={[
            { value: '', label: `${t.variant.addStep} …` },
            ...kindsFor(last ?? piece).map((kind) => ({ value: kind, label: t.variant.kinds[kind] })),
          ]}
          onChange={(kind) => {
            if (kind !== '') write([...steps, firstStep(kind, last ?? piece, project.units)]);
          }}
        />
        <button type="button" class="quiet" onClick={() => session.do(detachVariant(piece))}>
          {t.variant.detach}
        </button>
      </div>
      <p class="field-help">{t.variant.detachHelp}</p>
    </fieldset>
  );
}

function beforeStep(from: Piece, steps: readonly VariantStep[]): Piece | null {
  const result = takeSteps(from, steps);
  return result.ok ? result.piece : null;
}

/** Steps that make sense for a piece. */
function kindsFor(piece: Piece): readonly Kind[] {
  return KINDS.filter((kind) =>
    kind === 'unfold' ? piece.foldEdge !== null : kind === 'foldBack' ? piece.foldEdge === null : true,
  );
}

function firstStep(kind: Kind, piece: Piece, units: Project['units']): VariantStep {
  switch (kind) {
    case 'unfold':
    case 'mirror':
      return { kind };
    case 'foldBack':
      return usualFold(piece);
    case 'allowance':
      return { kind, mm: 0, edges: [], corners: piece.corners ?? 'mitred' };
    case 'lengthen': {
      const height = pieceFacts(piece).size?.heightMm ?? 100;
      return { kind, direction: 'along', atMm: Math.round(height / 2), byMm: USUAL_LONGER_MM[units] };
    }
    case 'scale':
      return { kind, alongPercent: 100, acrossPercent: 100 };
  }
}

interface StepFieldsProps {
  readonly step: VariantStep;
  /** The piece the step is taken from; null where an earlier step can't be taken. */
  readonly before: Piece | null;
  readonly onChange: (step: VariantStep) => void;
}

function StepFields({ step, before, onChange }: StepFieldsProps) {
  switch (step.kind) {
    case 'unfold':
    case 'mirror':
      return null;
    case 'foldBack':
      return <FoldBackFields step={step} before={before} onChange={onChange} />;
    case 'allowance':
      return (
        <>
          <LengthField
            label={t.variant.allowanceMm}
            mm={step.mm}
            allowZero
            onChange={(mm) => onChange({ ...step, mm })}
          />
          <Choice
            label={t.piece.corners}
            value={step.corners}
            options={(['mitred', 'squared', 'rounded'] as const).map((value) => ({
              value,
              label: t.piece.cornerKinds[value],
            }))}
            onChange={(corners) => onChange({ ...step, corners })}
          />
          {before && (
            <EdgeAllowances
              piece={before}
              own={step.edges}
              allowanceMm={step.mm}
              onChange={(edge, mm) => {
                const others = step.edges.filter((entry) => entry.edge !== edge);
                const edges = mm === null ? others : [...others, { edge, mm }];
                onChange({ ...step, edges: edges.toSorted((a, b) => a.edge - b.edge) });
              }}
            />
          )}
        </>
      );
    case 'lengthen':
      return <LengthenFields step={step} onChange={onChange} />;
    case 'scale':
      return (
        <div class="row">
          {(['alongPercent', 'acrossPercent'] as const).map((key) => (
            <CountField
              key={key}
              label={t.variant[key]}
              count={step[key]}
              most={1000}
              onChange={(percent) => onChange({ ...step, [key]: Math.max(1, percent) })}
            />
          ))}
          <p class="field-help">{t.variant.scaleHelp}</p>
        </div>
      );
  }
}

interface LengthenFieldsProps {
  readonly step: Extract<VariantStep, { kind: 'lengthen' }>;
  readonly onChange: (step: VariantStep) => void;
}

function LengthenFields({ step, onChange }: LengthenFieldsProps) {
  const isShorter = step.byMm < 0;
  return (
    <>
      <div class="row">
        <Choice
          label={t.variant.longerOrShorter}
          value={isShorter ? 'shorter' : 'longer'}
          options={[
            { value: 'longer', label: t.variant.longer },
            { value: 'shorter', label: t.variant.shorter },
          ]}
          onChange={(way) => onChange({ ...step, byMm: (way === 'shorter' ? -1 : 1) * Math.abs(step.byMm) })}
        />
        <Choice
          label={t.variant.direction}
          value={step.direction}
          options={(['along', 'across'] as const).map((value) => ({
            value,
            label: t.variant.directions[value],
          }))}
          onChange={(direction) => onChange({ ...step, direction })}
        />
      </div>
      <div class="row">
        <LengthField
          label={isShorter ? t.variant.byShorter : t.variant.by}
          mm={Math.abs(step.byMm)}
          onChange={(mm) => onChange({ ...step, byMm: isShorter ? -mm : mm })}
        />
        <LengthField label={t.variant.at} mm={step.atMm} onChange={(atMm) => onChange({ ...step, atMm })} />
      </div>
    </>
  );
}
