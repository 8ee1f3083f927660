import { describe, expect, it } from 'vitest';
import { addRemnant, addRoll, changeCloth } from '../../client/state/clothCommands.ts';
import {
  choiceFor,
  chooseLay,
  currentPlan,
  isKeptOutOfDate,
  isOutOfDate,
  keepPlan,
  keptPlans,
} from '../../client/state/layCommands.ts';
import { LayRun, type LayTicket, readTicket } from '../../client/state/layRun.ts';
import { addMeasuredPieces, notePiece, resizePiece } from '../../client/state/pieceCommands.ts';
import type { LayRequestInput, LayState } from '../../pattern/exchange/lay.ts';
import type { ClothLay } from '../../pattern/exchange/project.ts';
import { expectValid, layState, Maker, settle } from './harness.ts';

const NOW = '2026-01-02T03:04:05.000Z';

function bench() {
  const maker = new Maker().does(
    addMeasuredPieces([
      {
        name: 'Strap',
        alongMm: 600,
        acrossMm: 40,
        counts: { plain: 2, mirrored: 0, onFold: 0 },
        material: 'Canvas',
      },
    ]),
  );
  maker.does(addRoll(maker.material('Canvas').id, 'Canvas roll', 'woven'));
  const requests: LayRequestInput[] = [];
  const cancelled: string[] = [];
  const tickets: LayTicket[] = [];
  let lastWords: LayState | null = null;
  let tell: (state: LayState) => void = () => undefined;
  let lose: () => void = () => undefined;
  const run = new LayRun({
    request: async (request) => {
      requests.push(request);
      return `lay-${requests.length}`;
    },
    watch: (_id, onState, onLost) => {
      tell = onState;
      lose = onLost;
      return () => {
        tell = () => undefined;
      };
    },
    cancel: async (id) => {
      cancelled.push(id);
      return lastWords;
    },
    remember: (ticket) => tickets.push(ticket),
    forget: () => {
      tickets.length = 0;
    },
    now: () => NOW,
    record: (change) => maker.receives(change),
    explain: (error) => String(error),
    words: { lost: 'lost', failed: 'failed' },
  });
  const materialId = maker.material('Canvas').id;
  const result = (usedMm: number): ClothLay => ({
    materialId,
    clothId: maker.cloth('Canvas roll').id,
    spread: 'single',
    verdict: 'fits',
    segments: [],
    unplaced: [],
    usedMm,
    buyMm: 700,
    usePercent: 12,
    piecesToTrace: 2,
    pieceAreaMm2: 48_000,
    clothAreaMm2: 890_000,
    costCents: null,
  });
  return {
    maker,
    run,
    requests,
    cancelled,
    materialId,
    result,
    tell: (part: Partial<LayState>) => tell(layState(part)),
    lose: () => lose(),
    tickets,
    endsWith: (part: Partial<LayState>) => {
      lastWords = layState({ state: 'cancelled', ...part });
    },
  };
}

describe('a lay asked for from the page', () => {
  it('asks for the material with all its cloths and without old plans', async () => {
    const { maker, run, requests, materialId } = bench();
    await run.start(maker.project, 'p1', [materialId], 5, 1);
    expect(requests[0]).toMatchObject({
      seconds: 5,
      choices: [{ materialId, clothIds: [maker.cloth('Canvas roll').id], spread: 'single' }],
      project: { plans: [] },
    });
  });

  it('shows better layouts as they come and ignores one that arrives late', async () => {
    const { maker, run, materialId, result, tell } = bench();
    await run.start(maker.project, 'p1', [materialId], 5, 1);
    tell({ revision: 2, results: [result(650)] });
    tell({ revision: 3, results: [result(640)] });
    tell({ revision: 2, results: [result(650)] });
    const shown = run.state.value;
    expect(shown.kind === 'running' && shown.lay?.results[0]?.usedMm).toBe(640);
  });

  it('keeps the last layouts in the document when it is done, as no step of undo', async () => {
    const { maker, run, materialId, result, tell } = bench();
    const steps = maker.history.past.length;
    await run.start(maker.project, 'p1', [materialId], 5, 1);
    tell({ revision: 2, state: 'done', results: [result(620)] });
    expect(run.state.value.kind).toBe('ended');
    expect(maker.history.past.length).toBe(steps);
    maker.undoes();
    expect(currentPlan(maker.project, materialId)?.results[0]?.usedMm).toBe(620);
    expectValid(maker.project);
  });

  it('keeps the best so far when the maker stops it, and tells the server', async () => {
    const { maker, run, materialId, result, tell, cancelled } = bench();
    await run.start(maker.project, 'p1', [materialId], 60, 1);
    tell({ revision: 2, results: [result(640)] });
    await run.stop();
    expect(cancelled).toEqual(['lay-1']);
    expect(currentPlan(maker.project, materialId)?.results[0]?.usedMm).toBe(640);
    tell({ revision: 9, state: 'done', results: [result(1)] });
    expect(currentPlan(maker.project, materialId)?.results[0]?.usedMm).toBe(640);
  });

  it('keeps what the server found after it last told, when stopped', async () => {
    const { maker, run, materialId, result, tell, endsWith } = bench();
    await run.start(maker.project, 'p1', [materialId], 60, 1);
    tell({ revision: 2, results: [result(640)] });
    endsWith({ revision: 5, results: [result(610)] });
    await run.stop();
    expect(currentPlan(maker.project, materialId)?.results[0]?.usedMm).toBe(610);
  });

  it('takes a lay up again after the page was loaded anew', async () => {
    const { maker, run, materialId, result, tell, tickets } = bench();
    await run.start(maker.project, 'p1', [materialId], 60, 1);
    const ticket = tickets[0]!;
    expect(ticket).toMatchObject({ layId: 'lay-1', projectId: 'p1', materialIds: [materialId] });
    const again = bench();
    again.run.resume(readTicket(JSON.stringify(ticket)) ?? ticket);
    expect(readTicket('{"layId":"x"}')).toBeNull();
    expect(readTicket('')).toBeNull();
    again.tell({ revision: 8, state: 'done', results: [result(600)] });
    expect(currentPlan(again.maker.project, materialId)?.results[0]?.usedMm).toBe(600);
    tell({ state: 'done', results: [] });
    expect(tickets).toEqual([]);
  });

  it('keeps what it had when the server is lost, and says so', async () => {
    const { maker, run, materialId, result, tell, lose } = bench();
    await run.start(maker.project, 'p1', [materialId], 60, 1);
    tell({ revision: 2, results: [result(640)] });
    lose();
    expect(run.state.value).toMatchObject({ kind: 'failed', reason: 'lost' });
    expect(currentPlan(maker.project, materialId)?.results.length).toBe(1);
  });

  it('gives up a running lay when another is asked for', async () => {
    const { maker, run, materialId, cancelled, requests } = bench();
    await run.start(maker.project, 'p1', [materialId], 60, 1);
    await run.start(maker.project, 'p1', [materialId], 60, 2);
    await settle();
    expect(cancelled).toEqual(['lay-1']);
    expect(requests.length).toBe(2);
  });
});

describe('laying out again', () => {
  it('never puts a worse layout in the place of a better one', async () => {
    const { maker, run, materialId, result, tell } = bench();
    await run.start(maker.project, 'p1', [materialId], 5, 1);
    tell({ state: 'done', results: [result(600)] });
    await run.start(maker.project, 'p1', [materialId], 5, 2);
    tell({ state: 'done', results: [result(640)] });
    const used = () => currentPlan(maker.project, materialId)?.results.map((lay) => lay.usedMm);
    expect(used()).toEqual([600]);
    await run.start(maker.project, 'p1', [materialId], 5, 3);
    tell({ state: 'done', results: [result(590)] });
    expect(used()).toEqual([590]);
  });

  it('judges each way to spread a roll by itself, and keeps one that was not laid this time', async () => {
    const { maker, run, materialId, result, tell } = bench();
    const folded = (usedMm: number): ClothLay => ({ ...result(usedMm), spread: 'folded' });
    await run.start(maker.project, 'p1', [materialId], 5, 1);
    tell({ state: 'done', results: [result(600), folded(700)] });
    await run.start(maker.project, 'p1', [materialId], 5, 2);
    tell({ revision: 2, results: [result(590)] });
    await run.stop();
    expect(currentPlan(maker.project, materialId)?.results.map((lay) => lay.usedMm)).toEqual([590, 700]);
  });

  it('compares whole runs where a remnant comes first', async () => {
    const { maker, run, materialId, result, tell } = bench();
    maker.does(addRemnant(materialId, 'Canvas scrap', 'woven', 400, 300));
    const remnant = (unplaced: number): ClothLay => ({
      ...result(0),
      clothId: maker.cloth('Canvas scrap').id,
      segments: [{ spread: 'single', widthMm: 300, lengthMm: 400, placed: [] }],
      unplaced: unplaced === 0 ? [] : [{ pieceId: 'p', plain: unplaced, mirrored: 0, onFold: 0 }],
    });
    await run.start(maker.project, 'p1', [materialId], 5, 1);
    tell({ state: 'done', results: [remnant(2), result(400)] });
    await run.start(maker.project, 'p1', [materialId], 5, 2);
    // The remnant alone looks better here, but it leaves more than one roll's worth to the roll.
    tell({ state: 'done', results: [remnant(1), result(450)] });
    expect(currentPlan(maker.project, materialId)?.results.map((lay) => lay.usedMm)).toEqual([0, 400]);
  });

  it('takes whatever is new once anything asked for has changed', async () => {
    const { maker, run, materialId, result, tell } = bench();
    await run.start(maker.project, 'p1', [materialId], 5, 1);
    tell({ state: 'done', results: [result(600)] });
    maker.does(resizePiece(maker.piece('Strap'), 700, 40));
    await run.start(maker.project, 'p1', [materialId], 5, 2);
    tell({ state: 'done', results: [result(740)] });
    expect(currentPlan(maker.project, materialId)?.results.map((lay) => lay.usedMm)).toEqual([740]);
  });
});

describe('a plan knows what it was made from', () => {
  async function planned() {
    const parts = bench();
    await parts.run.start(parts.maker.project, 'p1', [parts.materialId], 5, 1);
    parts.tell({ state: 'done', results: [parts.result(620)] });
    const isOld = () =>
      isOutOfDate(parts.maker.project, currentPlan(parts.maker.project, parts.materialId)!, parts.materialId);
    return { ...parts, isOld };
  }

  it('is out of date after a size or a cloth rule changed, and good again after undo', async () => {
    const { maker, isOld } = await planned();
    expect(isOld()).toBe(false);
    maker.does(resizePiece(maker.piece('Strap'), 700, 40));
    expect(isOld()).toBe(true);
    maker.undoes();
    expect(isOld()).toBe(false);
    maker.does(changeCloth(maker.cloth('Canvas roll'), { nap: 'oneWay' }));
    expect(isOld()).toBe(true);
  });

  it('is out of date when the cloth is to be laid another way', async () => {
    const { maker, materialId, isOld } = await planned();
    maker.does(chooseLay(maker.project, { ...choiceFor(maker.project, materialId), spread: 'folded' }));
    expect(isOld()).toBe(true);
  });

  it('does not mind notes, names and prices', async () => {
    const { maker, isOld } = await planned();
    maker
      .does(notePiece(maker.piece('Strap'), 'fold in four'))
      .does(changeCloth(maker.cloth('Canvas roll'), { name: 'Shop canvas', priceCentsPerMetre: 1290 }));
    expect(isOld()).toBe(false);
  });

  it('can be kept under a name, and then stays whatever is laid later', async () => {
    const { maker, run, materialId, tell, result } = await planned();
    maker.does(keepPlan(maker.project, 'First try', NOW));
    await run.start(maker.project, 'p1', [materialId], 5, 2);
    tell({ id: 'lay-2', state: 'done', results: [result(600)] });
    expect(keptPlans(maker.project).map((plan) => plan.results[0]?.usedMm)).toEqual([620]);
    expect(isKeptOutOfDate(maker.project, keptPlans(maker.project)[0]!)).toBe(false);
    maker.does(resizePiece(maker.piece('Strap'), 700, 40));
    expect(isKeptOutOfDate(maker.project, keptPlans(maker.project)[0]!)).toBe(true);
    expectValid(maker.project);
  });

  it('lays on every cloth of the material while nothing else is chosen', async () => {
    const { maker, materialId } = bench();
    maker.does(addRoll(materialId, 'Second roll', 'woven'));
    expect(choiceFor(maker.project, materialId).clothIds.length).toBe(2);
  });
});
