import { CountField } from '../../fields/NumberFields.tsx';
import { type Pick, type PickRow, settled } from '../../reading/picking.ts';
import { t } from '../../strings/index.ts';
import { MaterialInput } from '../shared/MaterialInput.tsx';

interface SaidRowsProps {
  readonly pick: Pick;
  readonly change: (pick: Pick) => void;
}

/** What the drawing says is to be cut of a piece: the maker sees the words, answers what they leave open, corrects. */
export function SaidRows({ pick, change }: SaidRowsProps) {
  const put = (index: number, row: PickRow): void => change({ ...pick, rows: pick.rows.with(index, row) });
  return (
    <ul class="said-rows plain-list" aria-label={t.drawing.saidOf(pick.name)}>
      {pick.rows.map((row, index) => (
        // Rows have no names of their own; they never change their order.
        <li key={`${index} ${row.said}`}>
          <p class="faint">{t.drawing.said(row.said)}</p>
          <div class="row">
            <MaterialInput
              label={t.drawing.saidMaterial}
              value={row.material}
              onChange={(material) => put(index, { ...row, material })}
            />
            {row.onFold > 0 ? (
              <CountField
                label={t.drawing.onFold}
                count={row.onFold}
                onChange={(onFold) => put(index, { ...row, onFold })}
              />
            ) : (
              <>
                <CountField
                  label={t.drawing.plain}
                  count={row.plain}
                  onChange={(plain) => put(index, { ...row, plain, question: null })}
                />
                <CountField
                  label={t.drawing.mirrored}
                  count={row.mirrored}
                  onChange={(mirrored) => put(index, { ...row, mirrored, question: null })}
                />
              </>
            )}
            <button
              type="button"
              class="quiet"
              onClick={() => change({ ...pick, rows: pick.rows.filter((_, i) => i !== index) })}
            >
              {t.drawing.forgetRow}
            </button>
          </div>
          {row.onFold > 0 && !pick.fold?.isTaken && <p class="field-help">{t.drawing.foldGuess}</p>}
          {row.question !== null && <Question row={row} onSettle={(as) => put(index, settled(row, as))} />}
        </li>
      ))}
    </ul>
  );
}

interface QuestionProps {
  readonly row: PickRow;
  readonly onSettle: (as: Parameters<typeof settled>[1]) => void;
}

/** Words that may mean either of two things are never settled silently. */
function Question({ row, onSettle }: QuestionProps) {
  const total = row.plain + row.mirrored;
  const answers =
    row.question === 'hands'
      ? ([
          ['alike', t.drawing.alikeAnswer(total)],
          ['pairs', t.drawing.pairsAnswer(total)],
        ] as const)
      : ([
          ['once', t.drawing.onceAnswer(total)],
          ['twice', t.drawing.twiceAnswer(2 * total)],
        ] as const);
  return (
    <fieldset class="said-question">
      <legend>{row.question === 'hands' ? t.drawing.handsAsk(total) : t.drawing.doubleAsk}</legend>
      <div class="buttons">
        {answers.map(([as, label]) => (
          <button key={as} type="button" onClick={() => onSettle(as)}>
            {label}
          </button>
        ))}
      </div>
    </fieldset>
  );
}
