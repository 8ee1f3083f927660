import { explain } from '../../api/explain.ts';
import { changeShelf, readShelf, undoShelfChange } from '../../api/shelf.ts';
import { Shelf } from '../../state/shelf.ts';
import { t } from '../../strings/index.ts';

/** The one shelf of this installation. */
export const shelfHere = new Shelf({
  read: readShelf,
  change: changeShelf,
  undo: undoShelfChange,
  explain,
  words: { undone: t.shelf.undone },
});
