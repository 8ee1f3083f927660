import { signedArea } from '../../../nesting/geometry/rings.ts';
import type { Solve, StopSignal } from '../../../nesting/index.ts';
import { settleProject, totals } from '../../cutList/index.ts';
import type { LayRequest, Notice } from '../../exchange/lay.ts';
import type { Cloth, ClothLay, LayChoice, Project } from '../../exchange/project.ts';
import type { SetsAnswer, SetsQuestion, SetsTry } from '../../exchange/setsQuestion.ts';
import { USUAL_LANGUAGE } from '../../language.ts';
import { layProject } from '../layProject.ts';
import { choicesOf, type LayProgress } from '../runLay.ts';
import { StopSwitch } from '../stopSwitch.ts';
import { layWords } from '../words/index.ts';
import { projectWithSets, sizesToTry } from './projectWithSets.ts';
import { variableSizes } from './varySize.ts';

export interface SetsProgress extends LayProgress {
  readonly answer: SetsAnswer;
}

/** The share of what area alone allows that is tried first: plain layouts of a set come near it. */
const FIRST_GUESS = 0.85;

/**
 * How many sets of the cut list the chosen cloths give, answered by layouts: `results` are those of the most sets found
 * (in the largest size, where one may vary). Each number is tried with a lay of its own that ends as soon as everything
 * has its place; numbers are halved in between what fits and what area alone forbids. "Not found" is no proof, and is
 * told as such. Where a size may vary, each number of sets between those of the largest and of the smallest size gets
 * the largest size that was found to fit.
 *
 * Endless rolls are left out: they give as many as one likes. An aborted `signal` ends it with what is known.
 */
export async function howManySets(
  request: LayRequest,
  question: SetsQuestion,
  solve: Solve,
  report: (progress: SetsProgress) => void,
  signal: StopSignal,
): Promise<SetsProgress> {
  const project = settleProject(request.project);
  const choices = choicesOf(request).flatMap((choice) => finite(project, choice));
  const search = new SetsSearch({ ...request, project, choices }, question, solve, report, signal);
  const words = layWords(request.language ?? USUAL_LANGUAGE).sets;
  if (choices.length === 0) return search.refuse(words.needsLength, 'needsLength');
  if (question.vary !== null) {
    const { pieceIds, side } = question.vary;
    const fixed = project.pieces.find(
      (piece) => pieceIds.includes(piece.id) && !variableSizes(piece).some((size) => size.side === side),
    );
    if (fixed) return search.refuse(words.notMeasured(fixed.name), 'notMeasured');
  }
  return search.run();
}

/** A material's choice with the cloths that have an end; none if there is nothing to be cut, or no such cloth. */
function finite(project: Project, choice: LayChoice): LayChoice[] {
  const isCut = project.cutList.some(
    (row) => row.materialId === choice.materialId && row.plain + row.mirrored + row.onFold > 0,
  );
  const clothIds = clothsOf(project, choice)
    .filter((cloth) => cloth.kind === 'remnant' || cloth.availableMm !== null)
    .map(({ id }) => id);
  return isCut && clothIds.length > 0 ? [{ ...choice, clothIds }] : [];
}

function clothsOf(project: Project, { materialId, clothIds }: LayChoice): Cloth[] {
  const own = project.cloths.filter((cloth) => cloth.materialId === materialId);
  return clothIds.length === 0 ? own : own.filter(({ id }) => clothIds.includes(id));
}

class SetsSearch {
  readonly #request: LayRequest;
  readonly #question: SetsQuestion;
  readonly #solve: Solve;
  readonly #report: (progress: SetsProgress) => void;
  readonly #signal: StopSignal;
  readonly #tries: SetsTry[] = [];
  readonly #found = new Map<number, number | null>();
  #notices: readonly Notice[] = [];
  #results: readonly ClothLay[] = [];
  #atMost = 0;

  constructor(
    request: LayRequest,
    question: SetsQuestion,
    solve: Solve,
    report: (progress: SetsProgress) => void,
    signal: StopSignal,
  ) {
    this.#request = request;
    this.#question = question;
    this.#solve = solve;
    this.#report = report;
    this.#signal = signal;
  }

  refuse(text: string, code: string): SetsProgress {
    this.#notices = [{ level: 'error', code, text }];
    return this.#progress();
  }

  async run(): Promise<SetsProgress> {
    const { vary } = this.#question;
    if (vary === null) {
      this.#atMost = this.#boundFor(null);
      await this.#most(null, 0);
      return this.#progress();
    }
    const sizes = sizesToTry(vary);
    this.#atMost = this.#boundFor(sizes[0]!);
    const least = await this.#most(sizes.at(-1)!, 0);
    const most = sizes.length > 1 ? await this.#most(sizes[0]!, least) : least;
    for (let sets = least + 1; sets <= most; sets++) await this.#largest(sets, sizes);
    return this.#progress();
  }

  /** The most sets found in one size; `known` fit for sure. */
  async #most(sizeMm: number | null, known: number): Promise<number> {
    const bound = this.#boundFor(sizeMm);
    let fits = known;
    let tooMany = bound + 1;
    let next = Math.max(known + 1, Math.floor(FIRST_GUESS * bound));
    while (tooMany - fits > 1 && !this.#signal.aborted) {
      next = Math.min(tooMany - 1, Math.max(fits + 1, next));
      if (await this.#fits(next, sizeMm)) fits = next;
      else tooMany = next;
      next = Math.ceil((fits + tooMany) / 2);
    }
    return fits;
  }

  /** The largest of the sizes in which so many sets fit; the smallest is known to. */
  async #largest(sets: number, sizes: readonly number[]): Promise<void> {
    let fits = 0;
    let tooLarge = sizes.length - 1;
    while (tooLarge - fits > 1 && !this.#signal.aborted) {
      const middle = Math.ceil((fits + tooLarge) / 2);
      if (await this.#fits(sets, sizes[middle]!)) fits = middle;
      else tooLarge = middle;
    }
  }

  async #fits(sets: number, sizeMm: number | null): Promise<boolean> {
    const known = this.#known(sets, sizeMm);
    if (known !== null) return known;
    if (sets > this.#boundFor(sizeMm)) {
      this.#note(
        {
          sets,
          sizeMm,
          verdict: 'cannot fit',
          reason: layWords(this.#request.language ?? USUAL_LANGUAGE).sets.tooMuchArea,
        },
        null,
      );
      return false;
    }
    const project = settleProject(projectWithSets(this.#request.project, sets, this.#question.vary, sizeMm));
    const enough = new StopSwitch(this.#signal);
    const { choices } = this.#request;
    const isDone = ({ results }: LayProgress): boolean =>
      choices.every(({ materialId }) =>
        results.some((lay) => lay.materialId === materialId && lay.verdict === 'fits'),
      );
    const last = await layProject(
      { ...this.#request, project },
      this.#solve,
      (progress) => {
        if (isDone(progress)) enough.stop();
      },
      enough,
    );
    enough.release();
    // Given up before it could say anything: no answer to this number.
    if (this.#signal.aborted && !isDone(last)) return false;
    const fits = isDone(last);
    const stopper = last.results.find((lay) => lay.verdict === 'cannot fit');
    const missing = choices.filter(
      ({ materialId }) =>
        !last.results.some((lay) => lay.materialId === materialId && lay.verdict === 'fits'),
    );
    const isProved = missing.some(({ materialId }) => {
      const lays = last.results.filter((lay) => lay.materialId === materialId);
      // Several cloths share the pieces out: that one of them can't take all proves nothing.
      return lays.length === 1 && lays[0]?.verdict === 'cannot fit';
    });
    const reason = stopper?.reason ?? last.results.find((lay) => lay.verdict === 'not found')?.reason;
    const verdict = fits ? 'fits' : isProved ? 'cannot fit' : 'not found';
    this.#note(
      { sets, sizeMm, verdict, ...(fits || reason === undefined ? {} : { reason }) },
      fits ? last : null,
    );
    return fits;
  }

  /** What earlier tries say of this one: fewer and smaller ones fit where more and larger ones did. */
  #known(sets: number, sizeMm: number | null): boolean | null {
    const size = sizeMm ?? 0;
    const implied = this.#tries.find((one) =>
      one.verdict === 'fits'
        ? one.sets >= sets && (one.sizeMm ?? 0) >= size
        : one.sets === sets && one.sizeMm === sizeMm,
    );
    return implied ? implied.verdict === 'fits' : null;
  }

  #note(one: SetsTry, lays: LayProgress | null): void {
    this.#tries.push(one);
    if (lays) {
      const before = this.#found.get(one.sets);
      const isMost = [...this.#found.keys()].every((sets) => sets <= one.sets);
      const isLarger = before === undefined || (before ?? 0) < (one.sizeMm ?? 0);
      if (isLarger) this.#found.set(one.sets, one.sizeMm);
      if (isMost && isLarger) {
        this.#results = lays.results;
        this.#notices = lays.notices;
      }
    }
    this.#report(this.#progress());
  }

  readonly #bounds = new Map<number | null, number>();

  /** So many sets have as much area as the cloths; more can't be had. */
  #boundFor(sizeMm: number | null): number {
    const known = this.#bounds.get(sizeMm);
    if (known !== undefined) return known;
    const { project, choices } = this.#request;
    const one = settleProject(projectWithSets(project, 1, this.#question.vary, sizeMm));
    const areas = new Map(totals(one).map(({ materialId, areaMm2 }) => [materialId, areaMm2]));
    const bounds = choices.map((choice) => {
      const has = clothsOf(project, choice).reduce((sum, cloth) => sum + areaOf(cloth), 0);
      const needs = areas.get(choice.materialId) ?? 0;
      return needs > 0 ? Math.floor(has / needs + 1e-9) : 0;
    });
    const bound = Math.min(this.#question.most, ...bounds);
    this.#bounds.set(sizeMm, bound);
    return bound;
  }

  #progress(): SetsProgress {
    const found = [...this.#found]
      .map(([sets, sizeMm]) => ({ sets, sizeMm }))
      .sort((a, b) => b.sets - a.sets);
    return {
      results: this.#results,
      notices: this.#notices,
      answer: { atMost: this.#atMost, tries: [...this.#tries], found: this.#larger(found) },
    };
  }

  /** Of numbers of sets that fit in the same size, only the most. */
  #larger(found: { sets: number; sizeMm: number | null }[]): { sets: number; sizeMm: number | null }[] {
    let largest = Number.NEGATIVE_INFINITY;
    return found.filter(({ sizeMm }) => {
      const isLarger = (sizeMm ?? 0) > largest;
      if (isLarger) largest = sizeMm ?? 0;
      return isLarger;
    });
  }
}

/** All the cloth there is, selvedges and ends too: more than can be used, which is what a bound needs. */
function areaOf(cloth: Cloth): number {
  if (cloth.kind === 'roll') return cloth.widthMm * (cloth.availableMm ?? 0);
  const whole = Math.abs(signedArea(cloth.outline));
  const flaws = cloth.flaws.reduce((sum, flaw) => sum + Math.abs(signedArea(flaw)), 0);
  return cloth.quantity * Math.max(0, whole - flaws);
}
