import { useEffect, useRef, useState } from 'preact/hooks';
import { explain } from '../api/explain.ts';
import { HttpProblem } from '../api/http.ts';
import { signIn } from '../api/session.ts';
import type { Door } from '../state/door.ts';
import { t } from '../strings/index.ts';
import { Icon } from './shared/Icon.tsx';

/**
 * The password, asked for before anything of the work is shown or, when a session ends in the middle of it, over the
 * page: what was made stays as it is.
 */
export function SignIn({ door, hasWork }: { readonly door: Door; readonly hasWork: boolean }) {
  const [secret, setSecret] = useState('');
  const [isShown, setShown] = useState(false);
  const [isBusy, setBusy] = useState(false);
  const [fault, setFault] = useState('');
  const dialog = useRef<HTMLDialogElement>(null);
  const field = useRef<HTMLInputElement>(null);
  useEffect(() => {
    const element = dialog.current;
    if (element && !element.open) element.showModal();
    field.current?.focus();
    return () => element?.close();
  }, []);
  useEffect(() => {
    if (field.current) field.current.type = isShown ? 'text' : 'password';
  }, [isShown]);
  const send = async (): Promise<void> => {
    setBusy(true);
    try {
      await signIn(secret);
      door.opens();
    } catch (error) {
      setFault(reasonOf(error));
      setBusy(false);
      field.current?.select();
    }
  };
  return (
    <dialog ref={dialog} class="sign-in" aria-labelledby="sign-in-title" onCancel={(e) => e.preventDefault()}>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          if (secret === '') setFault(t.signIn.missing);
          else void send();
        }}
      >
        <svg class="brand-sign" viewBox="0 0 32 32" aria-hidden="true" focusable="false">
          <path class="brand-cloth" d="M4 6h18a6 6 0 0 1 6 6v14H10a6 6 0 0 1-6-6Z" />
          <path class="brand-piece" d="M9 11h10l4 4v6H13l-4-4Z" />
        </svg>
        <h2 id="sign-in-title">{t.signIn.title}</h2>
        <p>{hasWork ? t.signIn.again : t.signIn.text}</p>
        <div class="field">
          <label for="sign-in-secret">{t.signIn.password}</label>
          <input
            id="sign-in-secret"
            ref={field}
            type="password"
            autocomplete="current-password"
            spellcheck={false}
            autocapitalize="off"
            maxLength={1000}
            value={secret}
            aria-invalid={fault === '' ? undefined : true}
            aria-describedby={fault === '' ? 'sign-in-help' : 'sign-in-fault sign-in-help'}
            onInput={(event) => setSecret(event.currentTarget.value)}
          />
          <label class="sign-in-show">
            <input
              type="checkbox"
              checked={isShown}
              onChange={(event) => setShown(event.currentTarget.checked)}
            />
            {t.signIn.show}
          </label>
          {fault !== '' && (
            <p id="sign-in-fault" class="field-fault" role="alert">
              <Icon name="lacking" />
              {fault}
            </p>
          )}
          <p id="sign-in-help" class="field-help">
            {t.signIn.help}
          </p>
        </div>
        <button type="submit" class="primary" disabled={isBusy}>
          {t.signIn.go}
        </button>
      </form>
    </dialog>
  );
}

function reasonOf(error: unknown): string {
  if (error instanceof HttpProblem && error.status === 401) return t.signIn.wrong;
  if (error instanceof HttpProblem && error.status === 429) return t.signIn.tooMany;
  return explain(error);
}
