import { type CopyId, type HandLay, withCopyAt } from '../../../../pattern/lay/hand/handLay.ts';
import { freePlaceFor } from '../../../../pattern/lay/hand/handPlaces.ts';
import { t } from '../../../strings/index.ts';
import { useSession } from '../../shared/hooks.ts';
import type { Commit } from './HandEditor.tsx';
import { copyName } from './handState.ts';

interface ParkedPiecesProps {
  readonly hand: HandLay;
  readonly parked: readonly CopyId[];
  readonly commit: Commit;
}

/** Pieces that lie beside the cloth. */
export function ParkedPieces({ hand, parked, commit }: ParkedPiecesProps) {
  const session = useSession();
  const put = (id: CopyId): void => {
    const place = freePlaceFor(hand, id, true);
    if (place) commit(withCopyAt(hand, id, place), 'putPlaced', id);
    else session.messages.say(t.hand.putNone);
  };
  return (
    <section class="panel" aria-label={t.hand.parked}>
      <h3>{t.hand.parked}</h3>
      {parked.length === 0 ? (
        <p class="faint">{t.hand.parkedNone}</p>
      ) : (
        <ul class="plain-list">
          {parked.map((id) => (
            <li key={`${id.stretch} ${id.item} ${id.copy}`} class="row">
              <span>{copyName(hand, id)}</span>
              <button type="button" onClick={() => put(id)}>
                {t.hand.put}
              </button>
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}
