import { type Hand, type Spread, type Spreading, whyNotFolded } from '../../nesting/cloth/index.ts';
import type { Impossibility, Layout, SearchResult, Solve, StopSignal } from '../../nesting/index.ts';
import type { LayRequest, Notice } from '../exchange/lay.ts';
import type { Cloth, ClothLay, LayChoice, Remnant, Roll } from '../exchange/project.ts';
import { formatLength } from '../units/index.ts';
import { assemble, type FilledStretch, stillOpen } from './assemble.ts';
import { endLossMm, rollCloth } from './clothRules.ts';
import { type CutDemand, demandsFor } from './demands.ts';
import { spreadingOf } from './spreading.ts';
import { impossibilityInWords, listOf, notFoundInWords, tooWideInWords } from './words.ts';

/** What a running lay has to show so far. */
export interface LayProgress {
  readonly results: readonly ClothLay[];
  readonly notices: readonly Notice[];
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
  await Promise.all(run.choices().map((choice, order) => run.layMaterial(choice, order)));
  return run.progress();
}

class LayRun {
  /** Keyed so that results keep one order however the searches overtake each other. */
  private readonly results = new Map<string, ClothLay>();
  private readonly notices: Notice[] = [];
  private readonly request: LayRequest;
  private readonly solve: Solve;
  private readonly report: (progress: LayProgress) => void;
  private readonly signal: StopSignal;

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
  }

  progress(): LayProgress {
    const keys = [...this.results.keys()].sort();
    return { results: keys.map((key) => this.results.get(key)!), notices: [...this.notices] };
  }

  /** One choice for each material: the request's own, else the project's, else the material as it stands. */
  choices(): LayChoice[] {
    const { project, choices } = this.request;
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

  async layMaterial(choice: LayChoice, order: number): Promise<void> {
    const { project } = this.request;
    const { materialId } = choice;
    const name = project.materials.find((material) => material.id === materialId)?.name ?? materialId;
    const { demands, notices } = demandsFor(project, materialId);
    for (const notice of notices) this.notice(notice);
    if (demands.length === 0) {
      this.notice({
        level: 'info',
        code: 'nothingToCut',
        text: `Nothing is to be cut from ${name}.`,
        materialId,
      });
      return;
    }
    const cloths = this.clothsFor(choice);
    if (cloths.length === 0) {
      const text = `There is no cloth for ${name} yet. Add a roll or a remnant to see how the pieces fall.`;
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
      for (const spread of this.spreadsFor(roll, choice))
        runs.push(this.layRoll(roll, spread, rest, nextKey()));
    }
    await Promise.all(runs);
  }

  private clothsFor(choice: LayChoice): Cloth[] {
    const own = this.request.project.cloths.filter((cloth) => cloth.materialId === choice.materialId);
    if (choice.clothIds.length === 0) return own;
    return choice.clothIds.flatMap((id) => own.find((cloth) => cloth.id === id) ?? []);
  }

  private spreadsFor(roll: Roll, choice: LayChoice): Spread[] {
    const wanted: Spread[] = choice.spread === 'compare' ? ['single', 'folded'] : [choice.spread];
    if (!wanted.includes('folded')) return wanted;
    const reason = whyNotFolded(rollCloth(roll));
    if (reason === null) return wanted;
    const why =
      reason === 'notFoldable'
        ? `${roll.name} is not to be folded, so it is laid in a single layer.`
        : `The print of ${roll.name} has its up across the cloth: folded, the upper layer would stand on its head. It is laid in a single layer.`;
    this.notice({
      level: 'info',
      code: `fold.${reason}`,
      text: why,
      clothId: roll.id,
      materialId: roll.materialId,
    });
    return ['single'];
  }

  private async layRemnant(
    remnant: Remnant,
    demands: readonly CutDemand[],
    key: string,
  ): Promise<CutDemand[]> {
    const spreading = spreadingOf(remnant, demands, 'single');
    if (spreading === null) {
      const text = `${remnant.name}: the margin of ${this.length(remnant.edgeMarginMm)} leaves no cloth. Make it smaller.`;
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
    this.remark(spreading, demands, remnant);
    if (!stretch) return [...demands];
    const show = (layout: Layout, outcome?: SearchResult): readonly FilledStretch[] => {
      const filled = [{ stretch, layout }];
      const copies = countOpen(demands, filled);
      const proof = outcome?.impossible;
      const verdict = copies === 0 ? 'fits' : proof ? 'cannot fit' : 'not found';
      const reason =
        copies === 0
          ? undefined
          : proof
            ? this.proofInWords(proof, spreading, demands)
            : notFoundInWords(copies);
      this.put(key, {
        materialId: remnant.materialId,
        cloth: remnant,
        spread: 'single',
        demands,
        filled,
        verdict,
        ...(reason === undefined ? {} : { reason }),
      });
      return filled;
    };
    const outcome = await this.pack(stretch.problem, key, (layout) => show(layout));
    return leftOver(demands, show(outcome.layout, outcome));
  }

  private async layRoll(
    roll: Roll,
    spread: Spread,
    demands: readonly CutDemand[],
    key: string,
  ): Promise<void> {
    const spreading = spreadingOf(roll, demands, spread);
    if (spreading === null) {
      const text = `${roll.name}: selvedges and margins leave no usable width. Check them against ${this.length(roll.widthMm)}.`;
      this.notice({
        level: 'error',
        code: 'noUsableCloth',
        text,
        clothId: roll.id,
        materialId: roll.materialId,
      });
      return;
    }
    this.remark(spreading, demands, roll);
    const tooWide = spreading.refusals.map((refusal) => {
      const piece = demands.find((d) => d.demand.id === refusal.demand)!.piece;
      const text = tooWideInWords(
        piece.name,
        roll.name,
        refusal.needs,
        refusal.has,
        this.request.project.units,
      );
      this.notice({
        level: 'error',
        code: 'tooWide',
        text,
        pieceId: piece.id,
        clothId: roll.id,
        materialId: roll.materialId,
      });
      return text;
    });
    const layouts = new Map<number, Layout>();
    const proofs: Impossibility[] = [];
    const show = (finished: boolean): void => {
      // Nothing is shown until every stretch has a first layout: half a length would look like the whole.
      if (layouts.size < spreading.stretches.length) return;
      const filled = spreading.stretches.map((stretch, i) => ({ stretch, layout: layouts.get(i)! }));
      const copies = countOpen(demands, filled);
      const used = filled.reduce((sum, f) => sum + f.layout.length, 0) + endLossMm(roll);
      const short = roll.availableMm === null ? 0 : used - roll.availableMm;
      const proof = finished ? proofs[0] : undefined;
      let verdict: ClothLay['verdict'] = 'fits';
      let reason: string | undefined;
      if (tooWide.length > 0) {
        verdict = 'cannot fit';
        reason = tooWide.join(' ');
      } else if (copies > 0) {
        verdict = proof ? 'cannot fit' : 'not found';
        reason = proof ? this.proofInWords(proof, spreading, demands) : notFoundInWords(copies);
      } else if (short > 0 && roll.availableMm !== null) {
        verdict = 'not found';
        reason = `The shortest lay found needs ${this.length(used)}; there are ${this.length(roll.availableMm)}: ${this.length(short)} short. That is no proof: more time may find a shorter one.`;
      }
      this.put(key, {
        materialId: roll.materialId,
        cloth: roll,
        spread,
        demands,
        filled,
        verdict,
        ...(reason === undefined ? {} : { reason }),
      });
    };
    const showOne = (index: number, layout: Layout, finished: boolean): void => {
      layouts.set(index, layout);
      show(finished);
    };
    await Promise.all(
      spreading.stretches.map(async (stretch, index) => {
        const outcome = await this.pack(stretch.problem, `${key} ${index}`, (layout) =>
          showOne(index, layout, false),
        );
        if (outcome.impossible) proofs.push(outcome.impossible);
        showOne(index, outcome.layout, true);
      }),
    );
    show(true);
  }

  private pack(
    problem: Parameters<Solve>[0],
    key: string,
    onBetter: (layout: Layout) => void,
  ): Promise<SearchResult> {
    const { seed, seconds, maxSteps } = this.request;
    return this.solve(
      { ...problem, name: `${key} ${problem.name}` },
      {
        seed,
        maxMs: seconds * 1000,
        ...(maxSteps === undefined ? {} : { maxSteps }),
        signal: this.signal,
        onBetter,
      },
    );
  }

  private put(key: string, input: Parameters<typeof assemble>[0]): void {
    this.results.set(key, assemble(input));
    this.report(this.progress());
  }

  private notice(notice: Notice): void {
    this.notices.push(notice);
    this.report(this.progress());
  }

  private remark(spreading: Spreading, demands: readonly CutDemand[], cloth: Cloth): void {
    const about = { clothId: cloth.id, materialId: cloth.materialId };
    const nameOf = (id: string): string => demands.find((d) => d.demand.id === id)!.piece.name;
    const across = spreading.remarks
      .filter((remark) => remark.kind === 'grainAcross')
      .map((remark) => nameOf(remark.demand));
    if (across.length > 0) {
      const text = `So that the print stands upright on ${cloth.name}, the grain line of ${listOf(across)} lies across the cloth.`;
      this.notice({ level: 'warning', code: 'grainAcross', text, ...about });
    }
    const offGrain = spreading.remarks
      .filter((remark) => remark.kind === 'foldOffGrain')
      .map((remark) => nameOf(remark.demand));
    if (offGrain.length > 0) {
      const text = `The fold edge of ${listOf(offGrain)} does not run along the grain or turns its top the wrong way, so it is cut whole from the single layer.`;
      this.notice({ level: 'info', code: 'foldOffGrain', text, ...about });
    }
  }

  private proofInWords(proof: Impossibility, spreading: Spreading, demands: readonly CutDemand[]): string {
    const meanings = spreading.stretches.flatMap((stretch) => stretch.meanings);
    const handWord: Partial<Record<Hand, string>> = { mirrored: ' (mirrored)' };
    return impossibilityInWords(
      proof,
      (item) => {
        const meaning = meanings.find((m) => m.item === item);
        const piece = demands.find((d) => d.demand.id === meaning?.demand)?.piece;
        return `${piece?.name ?? item}${(meaning && handWord[meaning.hand]) ?? ''}`;
      },
      this.request.project.units,
    );
  }

  private length(mm: number): string {
    return formatLength(mm, this.request.project.units);
  }
}

/** Demands for what the layouts have left. */
function leftOver(demands: readonly CutDemand[], filled: readonly FilledStretch[]): CutDemand[] {
  const open = stillOpen(demands, filled);
  return demands.flatMap((cut) => {
    const counts = open.get(cut.demand.id)!;
    return counts.plain + counts.mirrored === 0 ? [] : [{ ...cut, demand: { ...cut.demand, ...counts } }];
  });
}

function countOpen(demands: readonly CutDemand[], filled: readonly FilledStretch[]): number {
  let copies = 0;
  for (const { plain, mirrored } of stillOpen(demands, filled).values()) copies += plain + mirrored;
  return copies;
}

function pad(n: number): string {
  return String(n).padStart(4, '0');
}
