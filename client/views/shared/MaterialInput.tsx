import { useId } from 'preact/hooks';
import { Field } from '../../fields/Field.tsx';
import { useProject } from './hooks.ts';
import { usualMaterial } from './usualMaterial.ts';

interface MaterialInputProps {
  readonly label: string;
  readonly value: string;
  readonly onChange: (name: string) => void;
  readonly hideLabel?: boolean;
}

/** A material's name: one of the project's or a new one. */
export function MaterialInput({ label, value, onChange, hideLabel }: MaterialInputProps) {
  const project = useProject();
  const listId = useId();
  return (
    <Field label={label} hideLabel={hideLabel} class="material">
      {({ id, describedBy }) => (
        <>
          <input
            id={id}
            type="text"
            list={listId}
            value={value}
            maxLength={200}
            autocomplete="off"
            placeholder={usualMaterial(project)}
            aria-describedby={describedBy}
            onInput={(event) => onChange(event.currentTarget.value)}
          />
          <datalist id={listId}>
            {project.materials.map((material) => (
              <option key={material.id} value={material.name} />
            ))}
          </datalist>
        </>
      )}
    </Field>
  );
}
