import type { Notion, Project } from '../../../pattern/exchange/project.ts';
import { type ShoppingLine, shoppingList } from '../../../pattern/output/index.ts';
import { Tick } from '../../fields/Choice.tsx';
import { PriceField } from '../../fields/NumberFields.tsx';
import { NameField, TextField } from '../../fields/TextField.tsx';
import { addNotion, changeNotion, removeNotion } from '../../state/cuttingCommands.ts';
import { currentPlan } from '../../state/layCommands.ts';
import { showMoney, t } from '../../strings/index.ts';
import { formatPurchase, formatSize } from '../../strings/lengths.ts';
import { useProject, useSession } from '../shared/hooks.ts';
import { Icon } from '../shared/Icon.tsx';
import { FileButton, FilesFault, useFiles } from './FileButton.tsx';

/** What to buy by the latest layouts, with lines of the maker's own. */
export function ShoppingPart({ isStale }: { readonly isStale: boolean }) {
  const project = useProject();
  const session = useSession();
  const files = useFiles();
  const results = project.materials.flatMap(({ id }) => currentPlan(project, id)?.results ?? []);
  const list = shoppingList(project, results);
  return (
    <details class="help shopping">
      <summary>{t.shopping.title}</summary>
      <p class="field-help">{t.shopping.lead}</p>
      <ul class="plain-list">
        {list.lines.map((line) => (
          <Line key={line.materialId} project={project} line={line} />
        ))}
      </ul>
      <h5>{t.shopping.notions}</h5>
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
  return (
    <li>
      <strong>{line.material}</strong>
      {line.taken.map(({ cloth, clothId, pieces }) => (
        <span key={clothId}> {t.shopping.take(cloth, pieces)}</span>
      ))}
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
        </>
      )}
      {line.state !== 'settled' && <span class="faint"> {t.shopping.states[line.state]}</span>}
    </li>
  );
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
