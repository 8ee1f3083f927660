import { faultText, Unreachable } from '../../api/http.ts';
import { changeShelf, readShelf, undoShelfChange } from '../../api/shelf.ts';
import { Shelf } from '../../state/shelf.ts';
import { t } from '../../strings/index.ts';

/** The one shelf of this installation. */
export const shelfHere = new Shelf({
  read: readShelf,
  change: changeShelf,
  undo: undoShelfChange,
  explain: (error) => (error instanceof Unreachable ? t.session.unreachable : faultText(error)),
  words: { undone: t.shelf.undone },
});
