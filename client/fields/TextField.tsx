import { useState } from 'preact/hooks';
import { t } from '../strings/index.ts';
import { useSession } from '../views/shared/hooks.ts';
import { Field } from './Field.tsx';

interface TextFieldProps {
  readonly label: string;
  readonly value: string;
  readonly onChange: (value: string) => void;
  readonly help?: string;
  readonly fault?: string | null;
  readonly hideLabel?: boolean;
  readonly placeholder?: string;
  readonly lines?: number;
  readonly list?: string;
  readonly maxLength?: number;
  readonly class?: string;
}

/** Free text, taken over letter by letter; leaving the field ends the undo step. */
export function TextField(props: TextFieldProps) {
  const session = useSession();
  const { label, value, onChange, help, fault, hideLabel, placeholder, lines, list, maxLength = 200 } = props;
  return (
    <Field label={label} help={help} fault={fault} hideLabel={hideLabel} class={props.class}>
      {({ id, describedBy }) =>
        lines === undefined ? (
          <input
            id={id}
            type="text"
            value={value}
            placeholder={placeholder}
            list={list}
            maxLength={maxLength}
            autocomplete="off"
            aria-describedby={describedBy}
            aria-invalid={fault ? true : undefined}
            onInput={(event) => onChange(event.currentTarget.value)}
            onBlur={session.seal}
          />
        ) : (
          <textarea
            id={id}
            rows={lines}
            value={value}
            placeholder={placeholder}
            maxLength={maxLength}
            spellcheck={false}
            aria-describedby={describedBy}
            onInput={(event) => onChange(event.currentTarget.value)}
            onBlur={session.seal}
          />
        )
      }
    </Field>
  );
}

interface NameFieldProps {
  readonly label: string;
  readonly value: string;
  readonly onChange: (value: string) => void;
  readonly hideLabel?: boolean;
  readonly class?: string;
}

/** A name: taken over letter by letter like any text, but an emptied field keeps the old name. */
export function NameField({ label, value, onChange, hideLabel, class: name }: NameFieldProps) {
  const session = useSession();
  const [isEmpty, setEmpty] = useState(false);
  return (
    <Field label={label} fault={isEmpty ? t.common.needName : null} hideLabel={hideLabel} class={name}>
      {({ id, describedBy }) => (
        <input
          id={id}
          type="text"
          value={isEmpty ? '' : value}
          maxLength={200}
          autocomplete="off"
          aria-describedby={describedBy}
          aria-invalid={isEmpty ? true : undefined}
          onInput={(event) => {
            const text = event.currentTarget.value;
            setEmpty(text.trim() === '');
            if (text.trim() !== '') onChange(text);
          }}
          onBlur={() => {
            setEmpty(false);
            session.seal();
          }}
        />
      )}
    </Field>
  );
}
