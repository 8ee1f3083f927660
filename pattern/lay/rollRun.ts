import type { Layout, Problem, SearchResult, StopSignal } from '../../nesting/index.ts';
import type { Notice } from '../exchange/lay.ts';
import type { Cloth, LayChoice } from '../exchange/project.ts';
import { formatLength } from '../units/index.ts';
import { type AssembleInput, rollLengths } from './assemble.ts';
import type { CutDemand } from './demands.ts';
import { refusalInWords, type Telling } from './inWords.ts';
import { betterOf, firstLook, layRoll, type RollLay, type RollTask } from './rollLay.ts';
import { judgeRoll, remarksInWords } from './verdicts.ts';
import { layWords } from './words/index.ts';

/** What one spread of a roll asks of the lay it belongs to. */
export interface RollRunHost {
  readonly telling: Telling;
  readonly signal: StopSignal;
  pack(problem: Problem, ms: number, key: string, onBetter: (layout: Layout) => void): Promise<SearchResult>;
  put(key: string, input: AssembleInput): void;
  notice(notice: Notice): void;
  countHands(key: string, demands: readonly CutDemand[], cloth: Cloth): void;
}

/** One spread of a roll on its way. */
export interface RollRun {
  readonly task: RollTask;
  readonly key: string;
  best: RollLay | null;
  look(): Promise<void>;
  lay(ms: number): Promise<void>;
  /** Takes over a single layer that is better than what the spread found. */
  adopt(other: RollLay): void;
}

/** One spread of a roll, from its first look to its last lay; what it has so far is put among the results. */
export function rollRun(host: RollRunHost, task: RollTask, key: string, choice: LayChoice): RollRun {
  const { roll, spread, demands } = task;
  const about = { clothId: roll.id, materialId: roll.materialId };
  const words = layWords(host.telling.language);
  let tooWide: readonly string[] = [];
  let withoutRepeatMm: number | undefined;
  let packed = 0;
  const context = {
    signal: host.signal,
    pack: (problem: Problem, forMs: number, onBetter: (layout: Layout) => void): Promise<SearchResult> =>
      host.pack(problem, forMs, `${key} ${packed++}`, onBetter),
  };
  const show = (lay: RollLay): void => {
    const { spreading, filled } = lay;
    tooWide = spreading.refusals.map((refusal) =>
      refusalInWords(refusal, cutOf(demands, refusal.demand), roll, host.telling),
    );
    host.put(key, {
      materialId: roll.materialId,
      cloth: roll,
      spread,
      arrangement: spreading.arrangement,
      demands,
      filled,
      ...judgeRoll(roll, lay, demands, tooWide, host.telling),
      ...(withoutRepeatMm === undefined ? {} : { withoutRepeatMm }),
    });
  };
  const run: RollRun = {
    task,
    key,
    best: null,
    look: async () => {
      run.best = await firstLook(task, context, show);
    },
    lay: async (ms) => {
      const lay = await layRoll(task, ms, context, show, run.best);
      run.best = lay;
      if (lay === null) {
        const { units, language } = host.telling;
        const text = words.noWidth(roll.name, formatLength(roll.widthMm, units, language));
        host.notice({ level: 'error', code: 'noUsableCloth', text, ...about });
        return;
      }
      for (const notice of remarksInWords(lay.spreading, demands, roll, host.telling.language))
        host.notice(notice);
      show(lay);
      for (const [i, { demand, offRepeat }] of lay.spreading.refusals.entries()) {
        const pieceId = cutOf(demands, demand).piece.id;
        const code = offRepeat ? 'offRepeat' : 'tooWide';
        host.notice({ level: 'error', code, text: tooWide[i]!, pieceId, ...about });
      }
      host.countHands(key, demands, roll);
      if (roll.repeat === null || !choice.withoutRepeat || host.signal.aborted) return;
      const plain = await layRoll({ ...task, roll: { ...roll, repeat: null } }, ms, context, () => {});
      if (plain) withoutRepeatMm = rollLengths(roll, plain.filled).used;
      show(lay);
    },
    adopt: (other) => {
      const { best } = run;
      if (!best || betterOf(roll, demands, best, other) === best) return;
      const doubled = demands.map(({ demand: { id } }) => ({ id, fold: 0, pairs: 0 }));
      const arrangement = { ...other.spreading.arrangement, doubled };
      run.best = { ...other, spreading: { ...other.spreading, arrangement } };
      show(run.best);
    },
  };
  return run;
}

function cutOf(demands: readonly CutDemand[], id: string): CutDemand {
  return demands.find(({ demand }) => demand.id === id)!;
}
