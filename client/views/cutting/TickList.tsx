import type { Project } from '../../../pattern/exchange/project.ts';
import type { TickItem, TickPart } from '../../../pattern/output/ticks.ts';
import { holdBack } from '../../state/cutListCommands.ts';
import { withTicks } from '../../state/cuttingCommands.ts';
import { t } from '../../strings/index.ts';
import { formatSize } from '../../strings/lengths.ts';
import { useSession } from '../shared/hooks.ts';

interface TickListProps {
  readonly project: Project;
  readonly parts: readonly TickPart[];
  readonly ticks: ReadonlySet<string>;
  readonly hideDone: boolean;
  /** Where rows of several materials stand together. */
  readonly withMaterial: boolean;
}

/** Rows of parts, each copy with a box large enough for a thumb. */
export function TickList({ project, parts, ticks, hideDone, withMaterial }: TickListProps) {
  const rows = parts
    .map((part) => ({
      part,
      items: hideDone ? part.items.filter(({ mark }) => !ticks.has(mark)) : part.items,
    }))
    .filter(({ items }) => items.length > 0);
  if (rows.length === 0) return <p class="faint">{t.cutting.allDone}</p>;
  return (
    <ul class="tick-rows">
      {rows.map(({ part, items }) => (
        <PartRow
          key={`${part.materialId} ${part.pieceId}`}
          project={project}
          part={part}
          items={items}
          ticks={ticks}
          withMaterial={withMaterial}
        />
      ))}
    </ul>
  );
}

interface PartRowProps extends Pick<TickListProps, 'project' | 'ticks' | 'withMaterial'> {
  readonly part: TickPart;
  readonly items: readonly TickItem[];
}

function PartRow({ project, part, items, ticks, withMaterial }: PartRowProps) {
  const session = useSession();
  const size = part.size && formatSize(part.size.widthMm, part.size.heightMm, project.units);
  const facts = [
    withMaterial ? part.material : '',
    size ? (part.isOpened ? t.cutting.opened(size) : size) : '',
  ];
  return (
    <li class="tick-row">
      <div class="tick-row-head">
        <strong>{part.name}</strong>
        <span class="faint">{facts.filter((fact) => fact !== '').join(' · ')}</span>
        <button
          type="button"
          class={part.held ? 'hold held' : 'hold quiet'}
          aria-pressed={part.held}
          aria-label={t.cutting.holdNamed(part.name, part.material)}
          title={t.cutting.holdHelp}
          onClick={() => session.do(holdBack(project, part.pieceId, part.materialId, !part.held))}
        >
          {part.held ? t.cutting.held : t.cutting.hold}
        </button>
      </div>
      <div class="tick-boxes">
        {items.map((item) => (
          <BigTick
            key={item.mark}
            name={t.cutting.itemNamed(
              part.name,
              part.material,
              t.cutting.hands[item.hand],
              item.copy,
              item.of,
            )}
            on={ticks.has(item.mark)}
            onChange={(on) => session.amend(withTicks([item.mark], on))}
          >
            {t.cutting.hands[item.hand]} {item.of > 1 ? item.copy : ''}
          </BigTick>
        ))}
      </div>
    </li>
  );
}

interface BigTickProps {
  /** All of it, for who can't see where it stands. */
  readonly name: string;
  readonly on: boolean;
  readonly onChange: (on: boolean) => void;
  readonly children: preact.ComponentChildren;
  readonly class?: string;
}

/** A checkbox with its words, at least as large as a thumb. */
export function BigTick({ name, on, onChange, children, class: more = '' }: BigTickProps) {
  return (
    <label class={`big-tick ${on ? 'on' : ''} ${more}`}>
      <input
        type="checkbox"
        checked={on}
        aria-label={name}
        onChange={(event) => onChange(event.currentTarget.checked)}
      />
      <span class="big-tick-words">{children}</span>
    </label>
  );
}
