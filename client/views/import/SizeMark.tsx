import type { Piece } from '../../../pattern/exchange/project.ts';
import { offInWords, sizeMarkIn } from '../../../pattern/proposals/sizeMark.ts';
import { settleSize } from '../../state/sizeCommands.ts';
import { language, t } from '../../strings/index.ts';
import { useProject, useSession } from '../shared/hooks.ts';
import { Icon } from '../shared/Icon.tsx';

/** Says on a piece that its drawing is not true to size, and asks what is to become of it. */
export function SizeMark({ piece }: { readonly piece: Piece }) {
  const session = useSession();
  const { pieces } = useProject();
  const mark = sizeMarkIn(piece);
  if (!mark) return null;
  const count = pieces.filter((other) => sizeMarkIn(other)?.file === mark.file).length;
  return (
    <div class="square-found warn" role="status">
      <p>
        <Icon name="lacking" /> {t.drawing.offSize(mark.file, offInWords(mark, language))}
      </p>
      <p class="row">
        <button type="button" onClick={() => session.do(settleSize(mark.file, 'correct'))}>
          {t.drawing.offCorrect(count)}
        </button>
        <button type="button" class="quiet" onClick={() => session.do(settleSize(mark.file, 'leave'))}>
          {t.drawing.offLeave}
        </button>
      </p>
      <p class="field-help">{t.drawing.offAllowance}</p>
    </div>
  );
}
