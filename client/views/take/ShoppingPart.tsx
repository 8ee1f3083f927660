import type { Notion, Project } from '../../../pattern/exchange/project.ts';
import { type ShoppingLine, shoppingList, type Taken } from '../../../pattern/output/index.ts';
import { Tick } from '../../fields/Choice.tsx';
import { PriceField } from '../../fields/NumberFields.tsx';
import { NameField, TextField } from '../../fields/TextField.tsx';
import { addNotion, changeNotion, removeNotion } from '../../state/cuttingCommands.ts';
import { currentPlan } from '../../state/layCommands.ts';
import { showMoney, t } from '../../strings/index.ts';
import { formatLength, formatPurchase, formatSize } from '../../strings/lengths.ts';
import { boughtInWords } from '../plan/buyWords.ts';
import { useProject, useSession, useStore } from '../shared/hooks.ts';
import { Icon } from '../shared/Icon.tsx';
import { shelfHere } from '../shelf/shelfHere.ts';
import { FileButton, FilesFault, useFiles } from './FileButton.tsx';

/** What to buy by the latest layouts, with lines of the maker's own. */
export function ShoppingPart({ isStale }: { readonly isStale: boolean }) {
  const project = useProject();
  const session = useSession();
  const files = useFiles();
  const results = project.materials.flatMap(({ id }) => currentPlan(project, id)?.results ?? []);
  const entries = useStore(shelfHere.entries);
  const isShelved = project.cloths.some(({ shelfId }) => shelfId !== undefined);
  const places = Object.fromEntries((entries ?? []).map(({ id, place }) => [id, place]));
  const list = shoppingList(project, results, places);
  const readShelf = (): void => {
    if (isShelved && entries === null) void shelfHere.read();
  };
  return (
    <details class="help shopping" onToggle={readShelf}>
      <summary>{t.shopping.title}</summary>
      <p class="field-help">{t.shopping.lead}</p>
      <ul class="plain-list">
        {list.lines
          .filter(({ buy, state }) => buy !== null || state !== 'settled')
          .map((line) => (
            <Line key={line.materialId} project={project} line={line} />
          ))}
      </ul>
      <TakenLines project={project} lines={list.lines} />
      <h4>{t.shopping.notions}</h4>
      <ul class="plain-list notions">
        {project.cutting.notions.map((notion) => (
          <NotionLine key={notion.id} notion={notion} />
        ))}
      </ul>
      {list.costCents !== null && (
        <p>
          <strong>
            {list.isPartly
              ? t.shopping.totalPartly(showMoney(list.costCents))
              : t.shopping.total(showMoney(list.costCents))}
          </strong>
        </p>
      )}
      <div class="row">
        <button
          type="button"
          disabled={project.cutting.notions.length >= 200}
          onClick={() => session.do(addNotion(t.shopping.newName))}
        >
          <Icon name="plus" />
          {t.shopping.add}
        </button>
        <FileButton files={files} file="shopping.pdf" query={{}} label={t.shopping.pdf} disabled={isStale} />
        <FileButton files={files} file="shopping.csv" query={{}} label={t.shopping.csv} disabled={isStale} />
      </div>
      <FilesFault files={files} />
    </details>
  );
}

function Line({ project, line }: { readonly project: Project; readonly line: ShoppingLine }) {
  const { buy } = line;
  const roll = project.cloths.find(({ id }) => id === buy?.clothId);
  const lay = currentPlan(project, line.materialId)?.results.find(
    ({ clothId, spread }) => clothId === buy?.clothId && spread === buy.spread,
  );
  return (
    <li>
      <strong>{line.material}</strong>
      {buy && (
        <>
          {' '}
          {buy.cloth}: <strong>{formatPurchase(buy.buyMm, project.units)}</strong>{' '}
          <span class="faint">
            {[
              t.plan.spreadNames[buy.spread],
              buy.spareMm > 0 ? t.shopping.spare(formatSize(buy.spareMm, buy.widthMm, project.units)) : '',
              buy.costCents === null ? '' : showMoney(buy.costCents),
            ]
              .filter((fact) => fact !== '')
              .join(' · ')}
          </span>
          {lay && roll?.kind === 'roll' && <span class="sum">{boughtInWords(lay, roll, project.units)}</span>}
        </>
      )}
      {line.state !== 'settled' && <span class="faint"> {t.shopping.states[line.state]}</span>}
    </li>
  );
}

/** What is there already, a line for each cloth. */
function TakenLines({
  project,
  lines,
}: {
  readonly project: Project;
  readonly lines: readonly ShoppingLine[];
}) {
  const taken = lines.flatMap((line) => line.taken.map((cloth) => ({ cloth, material: line.material })));
  if (taken.length === 0) return null;
  return (
    <>
      <h4>{t.shopping.taken}</h4>
      <ul class="plain-list">
        {taken.map(({ cloth, material }) => (
          <li key={cloth.clothId}>
            <strong>{material}</strong> {cloth.cloth}
            {cloth.lengthMm !== null && <strong>: {formatLength(cloth.lengthMm, project.units)}</strong>}{' '}
            <span class="faint">{whence(cloth)}</span>
          </li>
        ))}
      </ul>
    </>
  );
}

function whence({ place, pieces }: Taken): string {
  const from = place === null ? [] : [t.shopping.shelf(place)];
  return [...from, t.shopping.cutFrom(pieces)].join(' · ');
}

function NotionLine({ notion }: { readonly notion: Notion }) {
  const session = useSession();
  const change = (part: Partial<Omit<Notion, 'id'>>): void => session.do(changeNotion(notion, part));
  return (
    <li class="row">
      <NameField label={t.shopping.name} value={notion.name} onChange={(name) => change({ name })} />
      <TextField label={t.shopping.amount} value={notion.amount} onChange={(amount) => change({ amount })} />
      <PriceField
        label={t.shopping.cost}
        cents={notion.costCents}
        onChange={(costCents) => change({ costCents })}
      />
      <Tick label={t.shopping.bought} on={notion.bought} onChange={(bought) => change({ bought })} />
      <button
        type="button"
        class="quiet"
        aria-label={t.shopping.remove(notion.name)}
        onClick={() => session.do(removeNotion(notion))}
      >
        <Icon name="close" />
      </button>
    </li>
  );
}
