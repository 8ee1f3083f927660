import type { ComponentChildren } from 'preact';

/** An explanation that opens on demand, in place. */
export function Help({ title, children }: { readonly title: string; readonly children: ComponentChildren }) {
  return (
    <details class="help">
      <summary>{title}</summary>
      <div>{children}</div>
    </details>
  );
}
