import { useState } from 'preact/hooks';
import { t } from '../../strings/index.ts';
import { Icon } from '../shared/Icon.tsx';

/** Where a file is chosen or dropped; says why the one before could not be read. */
export function FileChooser({
  fault,
  onFile,
}: {
  readonly fault: string | null;
  readonly onFile: (file: File) => void;
}) {
  const [isOver, setOver] = useState(false);
  const take = (files: FileList | null | undefined): void => {
    const file = files?.[0];
    if (file) onFile(file);
  };
  return (
    <>
      <p>{t.drawing.lead}</p>
      {fault !== null && (
        <p class="banner bad" role="alert">
          <Icon name="lacking" />
          <span>
            {t.drawing.failed} {fault}
          </span>
        </p>
      )}
      <label
        class={isOver ? 'drop over' : 'drop'}
        onDragOver={(event) => {
          event.preventDefault();
          setOver(true);
        }}
        onDragLeave={() => setOver(false)}
        onDrop={(event) => {
          event.preventDefault();
          setOver(false);
          take(event.dataTransfer?.files);
        }}
      >
        <Icon name="down" />
        <strong>{t.drawing.choose}</strong>
        <span>{t.drawing.drop}</span>
        <input
          type="file"
          accept=".svg,.dxf,.pdf,image/svg+xml,image/vnd.dxf,application/pdf,image/jpeg,image/png,image/webp"
          class="sr"
          onChange={(event) => take(event.currentTarget.files)}
        />
      </label>
    </>
  );
}
