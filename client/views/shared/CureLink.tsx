import type { Notice } from '../../../pattern/exchange/lay.ts';
import { cureOf } from '../../state/cures.ts';
import { t } from '../../strings/index.ts';
import { useAddress, useProject } from './hooks.ts';

interface CureLinkProps {
  readonly notice: Pick<Notice, 'code' | 'text' | 'pieceId' | 'materialId' | 'clothId'>;
}

/** From what is told to where it can be settled. */
export function CureLink({ notice }: CureLinkProps) {
  const address = useAddress();
  const { step, open, at } = cureOf(notice, useProject());
  return (
    <a class="go" href={address(step, open, at)}>
      {t.lacks.goes[step]}
    </a>
  );
}
