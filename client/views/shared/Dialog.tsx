import type { ComponentChildren } from 'preact';
import { useEffect, useId, useRef } from 'preact/hooks';
import { t } from '../../strings/index.ts';
import { Icon } from './Icon.tsx';

interface DialogProps {
  readonly title: string;
  readonly onClose: () => void;
  readonly wide?: boolean;
  readonly children: ComponentChildren;
}

/** A window over the page. The browser keeps the focus in it, closes it on Escape and returns the focus. */
export function Dialog({ title, onClose, wide, children }: DialogProps) {
  const dialog = useRef<HTMLDialogElement>(null);
  const titleId = useId();
  useEffect(() => {
    const element = dialog.current;
    const before = document.activeElement;
    if (element && !element.open) element.showModal();
    return () => {
      element?.close();
      if (before instanceof HTMLElement && before.isConnected) before.focus();
    };
  }, []);
  return (
    <dialog
      ref={dialog}
      class={wide ? 'wide' : undefined}
      aria-labelledby={titleId}
      onCancel={(event) => {
        event.preventDefault();
        onClose();
      }}
    >
      <div class="dialog-head">
        <h2 id={titleId}>{title}</h2>
        <button type="button" class="quiet" aria-label={t.common.close} onClick={onClose}>
          <Icon name="close" />
        </button>
      </div>
      <div class="dialog-body">{children}</div>
    </dialog>
  );
}
