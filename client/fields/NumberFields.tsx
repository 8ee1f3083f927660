import { ABOUT, MM2_PER_SQUARE_FOOT, parseLength } from '../../pattern/units/index.ts';
import { language, showMoneyInField, showNumber, t } from '../strings/index.ts';
import { formatInField, unitName } from '../strings/lengths.ts';
import { useProject, useSession } from '../views/shared/hooks.ts';
import { type Draft, type Reading, useDraft } from './draft.ts';
import { Field } from './Field.tsx';

interface DraftInputProps {
  readonly label: string;
  readonly draft: Draft;
  readonly help?: string | undefined;
  readonly hideLabel?: boolean | undefined;
  readonly shortLabel?: string | undefined;
  readonly unit?: string | undefined;
  readonly inputMode?: 'decimal' | 'numeric' | 'text' | undefined;
  readonly placeholder?: string | undefined;
  readonly class?: string | undefined;
}

function DraftInput({
  label,
  draft,
  help,
  hideLabel,
  shortLabel,
  unit,
  inputMode,
  placeholder,
  class: name,
}: DraftInputProps) {
  const session = useSession();
  return (
    <Field
      label={label}
      help={help}
      fault={draft.fault}
      hideLabel={hideLabel}
      shortLabel={shortLabel}
      class={name}
    >
      {({ id, describedBy }) => (
        <span class="with-unit">
          <input
            id={id}
            type="text"
            inputMode={inputMode ?? 'text'}
            autocomplete="off"
            placeholder={placeholder}
            value={draft.text}
            data-open={draft.isOpen ? '' : undefined}
            aria-describedby={describedBy}
            aria-invalid={draft.fault ? true : undefined}
            onInput={(event) => draft.onInput(event.currentTarget.value)}
            onBlur={() => {
              draft.commit();
              session.seal();
            }}
            onKeyDown={(event) => {
              if (event.key === 'Enter') draft.commit();
              if (event.key === 'Escape' && draft.isOpen) {
                event.stopPropagation();
                draft.revert();
              }
            }}
          />
          {unit && <span class="unit">{unit}</span>}
        </span>
      )}
    </Field>
  );
}

interface LengthFieldProps {
  readonly label: string;
  readonly mm: number | null;
  readonly onChange: (mm: number) => void;
  /** Given: an emptied field means "none". */
  readonly onClear?: () => void;
  readonly allowZero?: boolean;
  readonly help?: string;
  readonly hideLabel?: boolean;
  readonly shortLabel?: string;
  readonly class?: string;
}

/** A length in the units shown, or in any unit typed with it. */
export function LengthField(props: LengthFieldProps) {
  const { units } = useProject();
  const { mm, onChange, onClear, allowZero = false } = props;
  const read = (text: string): Reading<number | null> => {
    if (onClear && text.trim() === '') return { ok: true, value: null };
    // A number shown rounded may be changed where it stands.
    const parsed = parseLength(text.replace(ABOUT, ' '), units, { allowZero, language });
    return parsed.ok ? { ok: true, value: parsed.mm } : { ok: false, fault: parsed.message };
  };
  const draft = useDraft(mm === null ? '' : formatInField(mm, units), read, (value) => {
    if (value === null) onClear?.();
    else onChange(value);
  });
  return (
    <DraftInput
      label={props.label}
      draft={draft}
      help={props.help}
      hideLabel={props.hideLabel}
      shortLabel={props.shortLabel}
      unit={unitName(units)}
      class={`length ${props.class ?? ''}`}
    />
  );
}

interface AngleFieldProps {
  readonly label: string;
  readonly degrees: number;
  readonly onChange: (degrees: number) => void;
  readonly help?: string;
}

export function AngleField({ label, degrees, onChange, help }: AngleFieldProps) {
  const read = (text: string): Reading<number> => {
    const value = Number(text.replace(',', '.').replace('−', '-').replace('°', '').trim());
    return text.trim() !== '' && Number.isFinite(value) && Math.abs(value) <= 360
      ? { ok: true, value }
      : { ok: false, fault: t.common.needAngle };
  };
  const draft = useDraft(showNumber(degrees), read, onChange);
  return <DraftInput label={label} draft={draft} help={help} unit="°" inputMode="decimal" class="angle" />;
}

interface PriceFieldProps {
  readonly label: string;
  readonly cents: number | null;
  readonly onChange: (cents: number | null) => void;
  readonly help?: string;
}

/** An amount of money with two decimals, kept in whole cents; empty for none. */
export function PriceField({ label, cents, onChange, help }: PriceFieldProps) {
  const read = (text: string): Reading<number | null> => {
    if (text.trim() === '') return { ok: true, value: null };
    const value = Math.round(Number(text.replace(',', '.').trim()) * 100);
    if (!Number.isFinite(value) || value < 0) return { ok: false, fault: t.common.needPrice };
    return value <= 10_000_000 ? { ok: true, value } : { ok: false, fault: t.common.atMost(100_000) };
  };
  const draft = useDraft(cents === null ? '' : showMoneyInField(cents), read, onChange);
  return <DraftInput label={label} draft={draft} help={help} inputMode="decimal" class="price" />;
}

interface CountFieldProps {
  readonly label: string;
  readonly count: number;
  readonly onChange: (count: number) => void;
  readonly most?: number;
  readonly hideLabel?: boolean;
  readonly class?: string;
}

/** A whole number with − and + beside it. */
export function CountField({
  label,
  count,
  onChange,
  most = 10_000,
  hideLabel,
  class: name,
}: CountFieldProps) {
  const read = (text: string): Reading<number> => {
    const trimmed = text.trim() === '' ? '0' : text.trim();
    if (!/^\d+$/.test(trimmed)) return { ok: false, fault: t.common.needNumber };
    const value = Number(trimmed);
    return value <= most ? { ok: true, value } : { ok: false, fault: t.common.atMost(most) };
  };
  const draft = useDraft(String(count), read, onChange);
  const step = (by: number): void => {
    draft.revert();
    onChange(Math.min(most, Math.max(0, count + by)));
  };
  return (
    <Field label={label} fault={draft.fault} hideLabel={hideLabel} class={`count ${name ?? ''}`}>
      {({ id, describedBy }) => (
        <span class="stepper">
          <button
            type="button"
            tabIndex={-1}
            aria-hidden="true"
            disabled={count === 0}
            onClick={() => step(-1)}
          >
            −
          </button>
          <input
            id={id}
            type="text"
            inputMode="numeric"
            autocomplete="off"
            value={draft.text}
            data-open={draft.isOpen ? '' : undefined}
            aria-describedby={describedBy}
            aria-invalid={draft.fault ? true : undefined}
            onInput={(event) => draft.onInput(event.currentTarget.value)}
            onBlur={draft.commit}
            onKeyDown={(event) => {
              if (event.key === 'Enter') draft.commit();
              if (event.key === 'Escape') draft.revert();
              if (event.key === 'ArrowUp' || event.key === 'ArrowDown') {
                event.preventDefault();
                step(event.key === 'ArrowUp' ? 1 : -1);
              }
            }}
          />
          <button
            type="button"
            tabIndex={-1}
            aria-hidden="true"
            disabled={count >= most}
            onClick={() => step(1)}
          >
            +
          </button>
        </span>
      )}
    </Field>
  );
}

interface PercentFieldProps {
  readonly label: string;
  readonly percent: number;
  readonly onChange: (percent: number) => void;
  readonly most: number;
  /** Said when more is typed. */
  readonly tooMuch: string;
  readonly help?: string;
}

/** A share in per cent, with decimals. */
export function PercentField({ label, percent, onChange, most, tooMuch, help }: PercentFieldProps) {
  const read = (text: string): Reading<number> => {
    const value = Number(text.replace(',', '.').replace('%', '').trim() || '0');
    if (!Number.isFinite(value) || value < 0) return { ok: false, fault: t.common.needNumber };
    return value <= most ? { ok: true, value } : { ok: false, fault: tooMuch };
  };
  const draft = useDraft(showNumber(percent), read, onChange);
  return <DraftInput label={label} draft={draft} help={help} unit="%" inputMode="decimal" class="angle" />;
}

interface HideAreaFieldProps {
  readonly label: string;
  readonly mm2: number;
  readonly onChange: (mm2: number) => void;
}

/** An area as leather is sold, in square metres or square feet; kept in mm². */
export function HideAreaField({ label, mm2, onChange }: HideAreaFieldProps) {
  const { units } = useProject();
  const unit = units === 'in' ? MM2_PER_SQUARE_FOOT : 1e6;
  const read = (text: string): Reading<number> => {
    const value = Number(text.replace(',', '.').trim());
    if (!Number.isFinite(value) || value <= 0) return { ok: false, fault: t.common.needNumber };
    const most = Math.floor(MOST_HIDE_MM2 / unit);
    return value <= most ? { ok: true, value: value * unit } : { ok: false, fault: t.common.atMost(most) };
  };
  const draft = useDraft(showNumber(Math.round((100 * mm2) / unit) / 100), read, onChange);
  const name = units === 'in' ? 'ft²' : 'm²';
  return <DraftInput label={label} draft={draft} unit={name} inputMode="decimal" class="angle" />;
}

/** More than any animal has, mm². */
const MOST_HIDE_MM2 = 1e8;
