import { drawnAlike } from '../../../pattern/proposals/alike.ts';
import type { InsideRole } from '../../../pattern/proposals/inside.ts';
import type { DrawingOutline, ReadDrawing } from '../../../pattern/reading/drawing.ts';
import { newPick, outlineById, type Pick, withAlike } from '../../reading/picking.ts';
import { t } from '../../strings/index.ts';
import { formatSize } from '../../strings/lengths.ts';
import { useProject } from '../shared/hooks.ts';
import { materialNamer } from '../shared/usualMaterial.ts';

interface InsidePartProps {
  readonly reading: ReadDrawing;
  readonly picks: readonly Pick[];
  readonly pick: Pick;
  readonly setPicks: (picks: readonly Pick[]) => void;
  readonly change: (pick: Pick) => void;
}

/** A thing inside is of the piece, or a piece of its own that is drawn where it is sewn on. */
type Choice = InsideRole | 'piece';

const CHOICES: readonly Choice[] = ['hole', 'sewLine', 'internal', 'piece', 'ignore'];

/** What lies in a picked outline, things drawn alike in one line, and what each is. */
export function InsidePart({ reading, picks, pick, setPicks, change }: InsidePartProps) {
  const project = useProject();
  const outlines = outlineById(reading);
  // Heads of arrows that are understood need no word of what they are.
  const drawn = new Set([
    ...(pick.grain?.isTaken ? pick.grain.drawnBy : []),
    ...(pick.fold?.isTaken ? pick.fold.drawnBy : []),
  ]);
  const inner = Object.keys(pick.inside).flatMap((id) => (drawn.has(id) ? [] : (outlines.get(id) ?? [])));
  const isPiece = (id: string): boolean =>
    picks.some(({ outlineId, alike }) => outlineId === id || alike.includes(id));
  const choose = (group: readonly DrawingOutline[], choice: Choice): void => {
    const ids = new Set(group.map(({ id }) => id));
    const role: InsideRole = choice === 'piece' ? 'internal' : choice;
    const inside = { ...pick.inside, ...Object.fromEntries(group.map(({ id }) => [id, role])) };
    const changed = { ...pick, inside };
    const [first] = group;
    if (choice === 'piece' && first && !isPiece(first.id)) {
      const own = withAlike(
        reading,
        newPick(reading, first, materialNamer(project)),
        ({ id }) => !ids.has(id),
      );
      setPicks([...picks.map((other) => (other.outlineId === pick.outlineId ? changed : other)), own]);
    } else if (choice !== 'piece' && first && isPiece(first.id))
      setPicks(
        picks.flatMap((other) =>
          ids.has(other.outlineId) ? [] : [other.outlineId === pick.outlineId ? changed : other],
        ),
      );
    else change(changed);
  };
  return (
    <>
      {grouped(reading, inner).map((group) => {
        const [first] = group;
        if (!first) return null;
        const chosen: Choice = isPiece(first.id) ? 'piece' : (pick.inside[first.id] ?? 'ignore');
        const many = group.length > 1 ? `${group.length} × ` : '';
        return (
          <label key={first.id} class="inside">
            <span>
              {many}
              {first.suggestedName}, {formatSize(first.widthMm, first.heightMm, project.units)}:
            </span>
            <select
              aria-label={t.drawing.insideAs(first.suggestedName)}
              onChange={(event) => {
                const choice = CHOICES.find((each) => each === event.currentTarget.value);
                if (choice) choose(group, choice);
              }}
            >
              {CHOICES.map((choice) => (
                <option key={choice} value={choice} selected={choice === chosen}>
                  {t.drawing.as[choice]}
                </option>
              ))}
            </select>
          </label>
        );
      })}
    </>
  );
}

/** Things drawn alike, as drawn or mirrored, together. */
function grouped(reading: ReadDrawing, inner: readonly DrawingOutline[]): readonly DrawingOutline[][] {
  const left = new Set(inner);
  const groups: DrawingOutline[][] = [];
  for (const outline of inner) {
    if (!left.delete(outline)) continue;
    const { same, mirrored } = drawnAlike(reading, outline);
    const group = [outline, ...[...same, ...mirrored].filter((other) => left.delete(other))];
    groups.push(group);
  }
  return groups;
}
