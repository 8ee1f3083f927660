import { useId } from 'preact/hooks';
import { Field } from './Field.tsx';

interface Option<V extends string> {
  readonly value: V;
  readonly label: string;
  readonly help?: string;
  readonly disabled?: boolean;
}

interface ChoiceProps<V extends string> {
  readonly label: string;
  readonly value: V;
  readonly options: readonly Option<V>[];
  readonly onChange: (value: V) => void;
  readonly help?: string;
  readonly hideLabel?: boolean;
  readonly class?: string;
}

/** A few choices, all in sight: radio buttons that look like a row of buttons. */
export function Choice<V extends string>(props: ChoiceProps<V>) {
  const { label, value, options, onChange, help, hideLabel } = props;
  const name = useId();
  const chosen = options.find((option) => option.value === value);
  return (
    <fieldset class={`choice ${props.class ?? ''}`}>
      <legend class={hideLabel ? 'sr' : undefined}>{label}</legend>
      <div class="choice-row">
        {options.map((option) => (
          <label key={option.value} class={option.value === value ? 'chosen' : undefined}>
            <input
              type="radio"
              name={name}
              value={option.value}
              checked={option.value === value}
              disabled={option.disabled}
              onChange={() => onChange(option.value)}
            />
            <span>{option.label}</span>
          </label>
        ))}
      </div>
      {(chosen?.help ?? help) && <p class="field-help">{chosen?.help ?? help}</p>}
    </fieldset>
  );
}

/** Choices that would take too much room side by side. */
export function Select<V extends string>(props: ChoiceProps<V>) {
  const { label, value, options, onChange, help, hideLabel } = props;
  return (
    <Field label={label} help={help} hideLabel={hideLabel} class={props.class}>
      {({ id, describedBy }) => (
        <select
          id={id}
          value={value}
          aria-describedby={describedBy}
          onChange={(event) => {
            const picked = options.find((option) => option.value === event.currentTarget.value);
            if (picked) onChange(picked.value);
          }}
        >
          {options.map((option) => (
            <option
              key={option.value}
              value={option.value}
              disabled={option.disabled}
              selected={option.value === value}
            >
              {option.label}
            </option>
          ))}
        </select>
      )}
    </Field>
  );
}

interface TickProps {
  readonly label: string;
  readonly on: boolean;
  readonly onChange: (on: boolean) => void;
  readonly help?: string;
  readonly disabled?: boolean;
}

export function Tick({ label, on, onChange, help, disabled }: TickProps) {
  const id = useId();
  return (
    <div class="tick">
      <label for={id}>
        <input
          id={id}
          type="checkbox"
          checked={on}
          disabled={disabled}
          aria-describedby={help ? `${id}-help` : undefined}
          onChange={(event) => onChange(event.currentTarget.checked)}
        />
        <span>{label}</span>
      </label>
      {help && (
        <p class="field-help" id={`${id}-help`}>
          {help}
        </p>
      )}
    </div>
  );
}
