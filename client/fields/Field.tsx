import type { ComponentChildren } from 'preact';
import { useId } from 'preact/hooks';

interface FieldProps {
  readonly label: string;
  readonly help?: string | undefined;
  readonly fault?: string | null | undefined;
  /** Keeps the label for screen readers only: in tables whose head says it. */
  readonly hideLabel?: boolean | undefined;
  /** Shown in place of the label, which screen readers still get; may be empty. */
  readonly shortLabel?: string | undefined;
  readonly class?: string | undefined;
  readonly children: (ids: {
    readonly id: string;
    readonly describedBy: string | undefined;
  }) => ComponentChildren;
}

/** Label, control, help and fault, tied together for screen readers. */
export function Field({ label, help, fault, hideLabel, shortLabel, class: name, children }: FieldProps) {
  const id = useId();
  const describedBy =
    [help ? `${id}-help` : '', fault ? `${id}-fault` : ''].filter((part) => part !== '').join(' ') ||
    undefined;
  return (
    <div class={`field ${name ?? ''} ${fault ? 'field-bad' : ''}`}>
      <label for={id} class={hideLabel ? 'sr' : undefined}>
        {shortLabel === undefined ? (
          label
        ) : (
          <>
            <span aria-hidden="true">{shortLabel}</span>
            <span class="sr">{label}</span>
          </>
        )}
      </label>
      {children({ id, describedBy })}
      {fault && (
        <p class="field-fault" id={`${id}-fault`} role="alert">
          {fault}
        </p>
      )}
      {help && (
        <p class="field-help" id={`${id}-help`}>
          {help}
        </p>
      )}
    </div>
  );
}
