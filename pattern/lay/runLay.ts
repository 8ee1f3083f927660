import { type Spread, wayRound, whyNotSpread, withoutPlace } from '../../nesting/cloth/index.ts';
import type { Impossibility, Layout, Problem, SearchResult, Solve, StopSignal } from '../../nesting/index.ts';
import type { LayRequest, Notice } from '../exchange/lay.ts';
import type { Cloth, ClothLay, LayChoice, Remnant, Roll } from '../exchange/project.ts';
import type { SetsAnswer } from '../exchange/setsQuestion.ts';
import type { BuyAnswer } from '../exchange/whatToBuy.ts';
import { USUAL_LANGUAGE } from '../language.ts';
import { formatLength } from '../units/index.ts';
import { anchorsOf } from './anchors.ts';
import { assemble, type FilledStretch, stillOpen } from './assemble.ts';
import { clothFaults } from './clothFaults.ts';
import { countHands } from './countHands.ts';
import { type CutDemand, demandsFor } from './demands.ts';
import { foldShortage } from './foldNeed.ts';
import { handFaultInWords, matchFaultInWords, type Telling } from './inWords.ts';
import { countOpen } from './rollLay.ts';
import { type RollRun, type RollRunHost, rollRun } from './rollRun.ts';
import { spreadingOf, usableRoll } from './spreading.ts';
import { type SpreadVerdict, spreadsOf } from './spreadsOf.ts';
import { proofInWords, remarksInWords } from './verdicts.ts';
import { type LayWords, layWords } from './words/index.ts';

/** What a running lay has to show so far. */
export interface LayProgress {
  readonly results: readonly ClothLay[];
  readonly notices: readonly Notice[];
  /** Where a question was asked: the answer so far. */
  readonly answer?: SetsAnswer;
  readonly buy?: BuyAnswer;
}

/**
 * Lays every material asked for: works out the rules, packs each cloth and spread through `solve`, and reports
 * each better result. Resolves with the last state; rejects only on a fault of ours, never on bad input (that
 * becomes notices). An aborted `signal` ends it soon with what it has.
 *
 * Remnants come first, in the order chosen; what they leave goes to each chosen roll, and several rolls (or
 * spreads of one) are alternatives for the same rest, so that they can be compared.
 */
export async function runLay(
  request: LayRequest,
  solve: Solve,
  report: (progress: LayProgress) => void,
  signal: StopSignal,
): Promise<LayProgress> {
  const run = new LayRun(request, solve, report, signal);
  await Promise.all(choicesOf(request).map((choice, order) => run.layMaterial(choice, order)));
  return run.progress();
}

/** With many spreads side by side each gets at least so long, in ms, where the whole run may take longer. */
const LEAST_COMPARED_MS = 1500;
/** Of the time for one cloth, what all its spreads together may take of each thread's: most have two stretches. */
const COMPARED_SHARE = 1.6;

/** One choice for each material: the request's own, else the project's, else the material as it stands. */
export function choicesOf({ project, choices }: Pick<LayRequest, 'project' | 'choices'>): LayChoice[] {
  if (choices.length > 0) return [...choices];
  return project.materials.map(
    (material) =>
      project.layChoices.find((choice) => choice.materialId === material.id) ?? {
        materialId: material.id,
        clothIds: [],
        spread: 'single',
      },
  );
}

class LayRun implements RollRunHost {
  /** Keyed so that results keep one order however the searches overtake each other. */
  private readonly results = new Map<string, ClothLay>();
  private readonly notices: Notice[] = [];
  private readonly request: LayRequest;
  private readonly solve: Solve;
  private readonly report: (progress: LayProgress) => void;
  readonly signal: StopSignal;
  readonly telling: Telling;
  private readonly words: LayWords;

  constructor(
    request: LayRequest,
    solve: Solve,
    report: (progress: LayProgress) => void,
    signal: StopSignal,
  ) {
    this.request = request;
    this.solve = solve;
    this.report = report;
    this.signal = signal;
    const { language = USUAL_LANGUAGE } = request;
    this.telling = { units: request.project.units, language };
    this.words = layWords(language);
  }

  progress(): LayProgress {
    const keys = [...this.results.keys()].sort();
    return { results: keys.map((key) => this.results.get(key)!), notices: [...this.notices] };
  }

  async layMaterial(choice: LayChoice, order: number): Promise<void> {
    const { project } = this.request;
    const { materialId } = choice;
    const name = project.materials.find((material) => material.id === materialId)?.name ?? materialId;
    const { demands, notices } = demandsFor(project, materialId, this.telling.language);
    for (const notice of notices) this.notice(notice);
    if (demands.length === 0) {
      this.notice({
        level: 'info',
        code: 'nothingToCut',
        text: this.words.nothingToCut(name),
        materialId,
      });
      return;
    }
    const cloths = this.clothsFor(choice);
    if (cloths.some(({ repeat }) => repeat !== null)) this.tellMatchFaults(materialId, demands);
    if (cloths.length === 0) {
      const text = this.words.noCloth(name);
      this.notice({ level: 'warning', code: 'noCloth', text, materialId });
      return;
    }
    let rest: readonly CutDemand[] = demands;
    let slot = 0;
    const nextKey = (): string => `${pad(order)} ${pad(slot++)}`;
    for (const remnant of cloths.filter((cloth) => cloth.kind === 'remnant')) {
      rest = await this.layRemnant(remnant, rest, nextKey());
      if (rest.length === 0 || this.signal.aborted) break;
    }
    if (rest.length === 0) return;
    const runs: Promise<void>[] = [];
    for (const roll of cloths.filter((cloth) => cloth.kind === 'roll')) {
      if (this.isFaulty(roll, rest)) continue;
      const laid = this.spreadsFor(roll, choice, rest).map((spread) =>
        rollRun(this, { roll, spread, demands: rest }, nextKey(), choice),
      );
      runs.push(this.layAll(laid).then(() => this.unfold(laid, roll, rest, choice)));
    }
    await Promise.all(runs);
  }

  /** Seams of this material at which the repeat cannot meet as asked. */
  private tellMatchFaults(materialId: string, demands: readonly CutDemand[]): void {
    const cut = new Set(demands.map(({ piece }) => piece.id));
    for (const fault of anchorsOf(this.request.project).faults) {
      const { a, b } = fault.match;
      if (!cut.has(a.pieceId) || !cut.has(b.pieceId)) continue;
      const text = matchFaultInWords(fault, this.request.project, this.telling.language);
      const about = fault.kind === 'seamUnknown' ? { pieceId: fault.pieceIds[0] } : {};
      this.notice({ level: 'warning', code: `match.${fault.kind}`, text, materialId, ...about });
    }
  }

  /** What a cloth's settings make impossible is said before any packing. */
  private isFaulty(cloth: Cloth, demands: readonly CutDemand[]): boolean {
    const faults = clothFaults(cloth, demands, this.request.project.units, this.telling.language);
    for (const { level, code, text, pieceId } of faults) {
      const about = { clothId: cloth.id, materialId: cloth.materialId };
      this.notice({ level, code, text, ...about, ...(pieceId === undefined ? {} : { pieceId }) });
    }
    return faults.some(({ level }) => level === 'error');
  }

  /** Several spreads of one cloth share its time, but each gets enough to show what it can do. */
  private msFor(spreads: number): number {
    const whole = this.request.seconds * 1000;
    return spreads <= 2
      ? whole
      : Math.max(Math.min(whole, LEAST_COMPARED_MS), (COMPARED_SHARE * whole) / spreads);
  }

  private clothsFor(choice: LayChoice): Cloth[] {
    const own = this.request.project.cloths.filter((cloth) => cloth.materialId === choice.materialId);
    if (choice.clothIds.length === 0) return own;
    return choice.clothIds.flatMap((id) => own.find((cloth) => cloth.id === id) ?? []);
  }

  private spreadsFor(roll: Roll, choice: LayChoice, demands: readonly CutDemand[]): readonly Spread[] {
    const usable = usableRoll(roll, demands);
    if (choice.spread === 'compare') {
      return spreadsOf(roll, demands)
        .filter(({ why }: SpreadVerdict) => why === null)
        .map(({ spread }) => spread);
    }
    const { spread } = choice;
    const why = whyNotSpread(usable, spread);
    if (why === null) return [spread];
    const instead = wayRound(usable, spread);
    const reason = this.words.whyNot[why](roll.name);
    this.notice({
      level: 'info',
      code: `spread.${why}`,
      text: `${reason} ${this.words.laidSo[instead ?? 'single']}`,
      clothId: roll.id,
      materialId: roll.materialId,
    });
    return [instead ?? 'single'];
  }

  private async layRemnant(
    remnant: Remnant,
    demands: readonly CutDemand[],
    key: string,
  ): Promise<CutDemand[]> {
    if (this.isFaulty(remnant, demands)) return [...demands];
    const spreading = spreadingOf(remnant, demands, 'single');
    if (spreading === null) {
      const text = this.words.marginTooLarge(remnant.name, this.length(remnant.edgeMarginMm));
      this.notice({
        level: 'error',
        code: 'noUsableCloth',
        text,
        clothId: remnant.id,
        materialId: remnant.materialId,
      });
      return [...demands];
    }
    const [stretch] = spreading.stretches;
    for (const notice of remarksInWords(spreading, demands, remnant, this.telling.language))
      this.notice(notice);
    if (!stretch) return [...demands];
    const show = (layout: Layout, outcome?: SearchResult): readonly FilledStretch[] => {
      const filled = [{ stretch, layout }];
      const copies = countOpen(demands, filled);
      const proof = outcome?.impossible ?? (outcome && copies > 0 ? offRepeat(stretch.problem) : undefined);
      const verdict = copies === 0 ? 'fits' : proof ? 'cannot fit' : 'not found';
      const reason =
        copies === 0
          ? undefined
          : proof
            ? proofInWords(proof, spreading, demands, this.telling, remnant)
            : this.words.notFound(copies);
      this.put(key, {
        materialId: remnant.materialId,
        cloth: remnant,
        spread: 'single',
        arrangement: spreading.arrangement,
        demands,
        filled,
        verdict,
        ...(reason === undefined ? {} : { reason }),
      });
      return filled;
    };
    const ms = this.request.seconds * 1000;
    const outcome = await this.pack(stretch.problem, ms, key, (layout) => show(layout));
    this.countHands(key, demands, remnant);
    return leftOver(demands, show(outcome.layout, outcome));
  }

  /** All spreads of one roll side by side; where there are many, a first look at each comes before any is searched. */
  private async layAll(runs: readonly RollRun[]): Promise<void> {
    if (runs.length > 2) await Promise.all(runs.map((run) => run.look()));
    const ms = this.msFor(runs.length);
    await Promise.all(runs.map((run) => run.lay(ms)));
    // Where no doubling pays, doubling only where it pays is a single layer.
    const single = runs.find(({ task }) => task.spread === 'single')?.best;
    if (single) runs.find(({ task }) => task.spread === 'sequence')?.adopt(single);
  }

  /** Where a fold was asked for and is too short for all half pieces: says so, and lays with some of them unfolded. */
  private async unfold(
    runs: readonly RollRun[],
    roll: Roll,
    demands: readonly CutDemand[],
    choice: LayChoice,
  ): Promise<void> {
    const key = runs[0]?.key;
    const lay = key === undefined ? undefined : this.results.get(key);
    const short = lay && choice.spread === 'folded' ? foldShortage(lay, roll) : null;
    if (short === null || this.signal.aborted) return;
    const { project, seconds } = this.request;
    const names = short.pieceIds.map((id) => project.pieces.find((piece) => piece.id === id)?.name ?? id);
    const [needs, has] = [this.length(short.needsMm), this.length(short.hasMm)];
    const text = this.words.foldShort(roll.name, this.words.list(names), needs, has);
    const about = { clothId: roll.id, materialId: roll.materialId };
    this.notice({ level: 'warning', code: 'foldShort', text, ...about });
    const again = rollRun(this, { roll, spread: 'sequence', demands }, `${key} unfolded`, choice);
    await again.lay(seconds * 1000);
  }

  /** Hands placed are counted once more, by their outlines, against the cut list. */
  countHands(key: string, demands: readonly CutDemand[], cloth: Cloth): void {
    const lay = this.results.get(key);
    if (!lay) return;
    for (const fault of countHands(lay, demands, cloth.reversible)) {
      const { materialId, clothId } = lay;
      const text = handFaultInWords(fault, this.request.project, this.telling.language);
      const { pieceId } = fault;
      this.notice({ level: 'error', code: 'handsMiscounted', text, materialId, clothId, pieceId });
    }
  }

  pack(
    problem: Parameters<Solve>[0],
    ms: number,
    key: string,
    onBetter: (layout: Layout) => void,
  ): Promise<SearchResult> {
    const { seed, maxSteps } = this.request;
    return this.solve(
      { ...problem, name: `${key} ${problem.name}` },
      {
        seed,
        maxMs: ms,
        ...(maxSteps === undefined ? {} : { maxSteps }),
        signal: this.signal,
        onBetter,
      },
    );
  }

  put(key: string, input: Parameters<typeof assemble>[0]): void {
    this.results.set(key, assemble(input));
    this.report(this.progress());
  }

  notice(notice: Notice): void {
    this.notices.push(notice);
    this.report(this.progress());
  }

  private length(mm: number): string {
    return formatLength(mm, this.telling.units, this.telling.language);
  }
}

/** Why a piece that keeps to the repeat has no place on a remnant, whatever else lies there; undefined where it has. */
function offRepeat(problem: Problem): Impossibility | undefined {
  const items = problem.items.filter(({ poses }) => poses.some(({ lattice }) => lattice !== undefined));
  return withoutPlace({ ...problem, items })[0];
}

/** Demands for what the layouts have left. */
function leftOver(demands: readonly CutDemand[], filled: readonly FilledStretch[]): CutDemand[] {
  const open = stillOpen(demands, filled);
  return demands.flatMap((cut) => {
    const counts = open.get(cut.demand.id)!;
    return counts.plain + counts.mirrored === 0 ? [] : [{ ...cut, demand: { ...cut.demand, ...counts } }];
  });
}

function pad(n: number): string {
  return String(n).padStart(4, '0');
}
