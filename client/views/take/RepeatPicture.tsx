import { useId, useState } from 'preact/hooks';
import type { Cloth } from '../../../pattern/exchange/project.ts';
import { changeCloth } from '../../state/clothCommands.ts';
import { t } from '../../strings/index.ts';
import { useSession } from '../shared/hooks.ts';
import { readRepeatPicture } from './repeatPicture.ts';

/** A picture of one repeat, read and kept with the cloth. */
export function RepeatPicture({ cloth }: { readonly cloth: Cloth }) {
  const session = useSession();
  const id = useId();
  const [fault, setFault] = useState<string | null>(null);
  const take = async (file: File): Promise<void> => {
    const printPicture = await readRepeatPicture(file);
    setFault(printPicture === null ? t.preview.noPicture(file.name) : null);
    if (printPicture !== null) session.do(changeCloth(cloth, { printPicture }));
  };
  return (
    <div class="field">
      <label for={id}>{t.preview.picture}</label>
      <input
        id={id}
        type="file"
        accept="image/*"
        aria-describedby={`${id}-help`}
        onChange={(event) => {
          const [file] = event.currentTarget.files ?? [];
          if (file) session.attempt(() => take(file));
        }}
      />
      <p class="field-help" id={`${id}-help`}>
        {t.preview.pictureHelp}
      </p>
      {fault !== null && (
        <p class="fault" role="alert">
          {fault}
        </p>
      )}
    </div>
  );
}
