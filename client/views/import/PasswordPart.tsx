import { useState } from 'preact/hooks';
import { Field } from '../../fields/Field.tsx';
import { t } from '../../strings/index.ts';
import { Icon } from '../shared/Icon.tsx';

interface PasswordPartProps {
  readonly fault: string;
  readonly onPassword: (password: string) => void;
  readonly onAnother: () => void;
}

/** Asks for the password of a locked file. It stays in the page: nothing of it is kept or sent. */
export function PasswordPart({ fault, onPassword, onAnother }: PasswordPartProps) {
  const [password, setPassword] = useState('');
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        if (password !== '') onPassword(password);
      }}
    >
      <p class="banner warn" role="alert">
        <Icon name="lacking" />
        <span>{fault}</span>
      </p>
      <Field label={t.drawing.password}>
        {({ id, describedBy }) => (
          <input
            id={id}
            type="password"
            autocomplete="off"
            aria-describedby={describedBy}
            value={password}
            onInput={(event) => setPassword(event.currentTarget.value)}
          />
        )}
      </Field>
      <div class="row">
        <button type="submit" class="primary" disabled={password === ''}>
          {t.drawing.unlock}
        </button>
        <button type="button" class="quiet" onClick={onAnother}>
          {t.drawing.another}
        </button>
      </div>
    </form>
  );
}
