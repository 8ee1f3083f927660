import type { Solve, StopSignal } from '../../nesting/index.ts';
import type { LayRequest, Notice } from '../exchange/lay.ts';
import type { ClothLay, CutRow, LayChoice, Project } from '../exchange/project.ts';
import { USUAL_LANGUAGE } from '../language.ts';
import { type CutDemand, guestDemands, type LaidRow, type Taken } from './demands.ts';
import { placeGuests } from './guests.ts';
import { chooseJoins, withJoins } from './joinChoice.ts';
import { choicesOf, type LayProgress, runLay } from './runLay.ts';
import { type LayWords, layWords } from './words/index.ts';

/**
 * Lays a project as `runLay` does, with what concerns several materials or several ways to cut: long pieces are joined
 * from as few lengths as serve, and pieces that may come from elsewhere go where another material has room without
 * becoming longer, in the maker's order of preference; what finds none is cut from its own material.
 */
export async function layProject(
  request: LayRequest,
  solve: Solve,
  report: (progress: LayProgress) => void,
  signal: StopSignal,
): Promise<LayProgress> {
  const choices = choicesOf(request);
  const isLaid = (id: string): boolean => choices.some(({ materialId }) => materialId === id);
  const roams = (row: CutRow): boolean => isLaid(row.materialId) && (row.elsewhere ?? []).some(isLaid);
  const isSimple = !request.project.cutList.some((row) => roams(row) || row.joins);
  if (isSimple) return runLay(request, solve, report, signal);
  return new ProjectLay({ ...request, choices }, solve, report, signal).run(
    request.project.cutList.filter(roams),
  );
}

class ProjectLay {
  readonly #request: LayRequest;
  readonly #solve: Solve;
  readonly #report: (progress: LayProgress) => void;
  readonly #signal: StopSignal;
  readonly #results = new Map<string, readonly ClothLay[]>();
  readonly #notices: Notice[] = [];
  readonly #words: LayWords;

  constructor(
    request: LayRequest,
    solve: Solve,
    report: (progress: LayProgress) => void,
    signal: StopSignal,
  ) {
    this.#request = request;
    this.#words = layWords(request.language ?? USUAL_LANGUAGE);
    this.#solve = solve;
    this.#report = report;
    this.#signal = signal;
  }

  /** @param roaming rows that may come from elsewhere */
  async run(roaming: readonly CutRow[]): Promise<LayProgress> {
    const { project, choices } = this.#request;
    const homes = new Set(roaming.map(({ materialId }) => materialId));
    // A material whose own pieces may leave takes none in: it is laid last.
    const first = choices.filter(({ materialId }) => !homes.has(materialId));
    const last = choices.filter(({ materialId }) => homes.has(materialId));
    await Promise.all(first.map((choice) => this.#lay(choice, project)));
    const left = this.#signal.aborted ? project.cutList : this.#settle(roaming);
    await Promise.all(last.map((choice) => this.#lay(choice, { ...project, cutList: left })));
    return this.#progress();
  }

  async #lay(choice: LayChoice, whole: Project): Promise<void> {
    const { materialId } = choice;
    const request = { ...this.#request, project: whole, choices: [choice] };
    const joins = await chooseJoins(request, materialId, this.#solve, this.#signal);
    const project = withJoins(whole, materialId, joins);
    if (joins > 0) this.#tellJoins(project, materialId, joins);
    let told = 0;
    const take = ({ results, notices }: LayProgress): void => {
      this.#results.set(materialId, results);
      this.#notices.push(...notices.slice(told));
      told = notices.length;
      this.#report(this.#progress());
    };
    take(await runLay({ ...request, project }, this.#solve, take, this.#signal));
  }

  #tellJoins({ cutList, pieces }: Project, materialId: string, joins: number): void {
    for (const row of cutList) {
      if (row.materialId !== materialId || !row.joins) continue;
      const name = pieces.find(({ id }) => id === row.pieceId)?.name ?? row.pieceId;
      const made = Math.min(joins, row.joins.most);
      const text = this.#words.joined(name, made + 1);
      this.#notices.push({ level: 'info', code: 'joined', text, pieceId: row.pieceId, materialId });
    }
  }

  /** Lays what may come from elsewhere where there is room. @returns the cut list of what is left for home */
  #settle(roaming: readonly CutRow[]): readonly LaidRow[] {
    const { project } = this.#request;
    let cutList: readonly LaidRow[] = project.cutList;
    for (const row of roaming) {
      for (const materialId of row.elsewhere ?? []) {
        const guests = guestDemands(project, materialId).filter(
          ({ piece, guestOf }) => piece.id === row.pieceId && guestOf === row.materialId,
        );
        for (const guest of guests) cutList = this.#take(guest, row, materialId, cutList);
      }
    }
    this.#report(this.#progress());
    return cutList;
  }

  /** Puts copies of a guest on a material's lays. @returns the cut list without what was placed */
  #take(guest: CutDemand, row: CutRow, materialId: string, cutList: readonly LaidRow[]): readonly LaidRow[] {
    const results = this.#results.get(materialId);
    const open = cutList.find(
      (entry) => entry.pieceId === row.pieceId && entry.materialId === row.materialId,
    );
    if (!results?.some(({ verdict }) => verdict === 'fits') || !open) return cutList;
    const { half, plain, mirrored } = guest.demand;
    const before = open.taken?.find(({ size }) => size === guest.sizeIndex) ?? {
      size: guest.sizeIndex,
      plain: 0,
      mirrored: 0,
      onFold: 0,
    };
    const isElsewhere = before.plain + before.mirrored + before.onFold > 0;
    // The sets of copies are counted from the first cloth on: with several sets only one other cloth takes some.
    if (isElsewhere && guest.sets.length > 0) return cutList;
    const wanted = half
      ? { plain: plain - before.onFold, mirrored: 0 }
      : { plain: plain - before.plain, mirrored: mirrored - before.mirrored };
    const placed = onLays(this.#request.project, results, guest, wanted);
    if (placed.plain + placed.mirrored === 0) return cutList;
    this.#results.set(materialId, placed.results);
    this.#tellGuest(guest, materialId, placed.plain + placed.mirrored);
    const now: Taken = half
      ? { ...before, onFold: before.onFold + placed.plain }
      : { ...before, plain: before.plain + placed.plain, mirrored: before.mirrored + placed.mirrored };
    const others = (open.taken ?? []).filter(({ size }) => size !== guest.sizeIndex);
    return cutList.map((entry) => (entry === open ? { ...open, taken: [...others, now] } : entry));
  }

  #tellGuest({ piece }: CutDemand, materialId: string, count: number): void {
    const name = this.#request.project.materials.find(({ id }) => id === materialId)?.name ?? materialId;
    const text = this.#words.fromElsewhere(piece.name, count, name);
    this.#notices.push({ level: 'info', code: 'fromElsewhere', text, pieceId: piece.id, materialId });
  }

  #progress(): LayProgress {
    const results = this.#request.choices.flatMap(({ materialId }) => this.#results.get(materialId) ?? []);
    return { results, notices: [...this.#notices] };
  }
}

/**
 * A guest on the lays of one material. Lays of several rolls, or of several spreads, are alternatives: as many copies
 * go on each as fit on all of them, so that whichever is cut, none is missing.
 */
function onLays(
  project: Project,
  results: readonly ClothLay[],
  guest: CutDemand,
  wanted: { readonly plain: number; readonly mirrored: number },
): { results: ClothLay[]; plain: number; mirrored: number } {
  const isRemnant = (lay: ClothLay): boolean =>
    project.cloths.find(({ id }) => id === lay.clothId)?.kind === 'remnant';
  const next = [...results];
  const placed = { plain: 0, mirrored: 0 };
  const open = (): { plain: number; mirrored: number } => ({
    plain: wanted.plain - placed.plain,
    mirrored: wanted.mirrored - placed.mirrored,
  });
  for (const [i, lay] of next.entries()) {
    if (!isRemnant(lay)) continue;
    const one = placeGuests(project, lay, guest, open());
    next[i] = one.lay;
    placed.plain += one.plain;
    placed.mirrored += one.mirrored;
  }
  const rolls = [...next.entries()].filter(([, lay]) => !isRemnant(lay));
  const tries = rolls.map(([, lay]) => placeGuests(project, lay, guest, open()));
  if (tries.length === 0) return { results: next, ...placed };
  const common = {
    plain: Math.min(...tries.map(({ plain }) => plain)),
    mirrored: Math.min(...tries.map(({ mirrored }) => mirrored)),
  };
  for (const [i, lay] of rolls) next[i] = placeGuests(project, lay, guest, common).lay;
  return {
    results: next,
    plain: placed.plain + common.plain,
    mirrored: placed.mirrored + common.mirrored,
  };
}
