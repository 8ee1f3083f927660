import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { layRequestSchema } from '../../pattern/exchange/lay.ts';
import { Lays } from '../../server/lays.ts';
import { nextInTurn } from '../../server/turns.ts';
import { PuppetEngine, sampleProgress, sampleProject } from './harness.ts';

/** Starts everything waiting, one at a time, each ended before the next: the order of the clients. */
function orderOf(asked: string): string {
  const waiting = [...asked].map((client, place) => ({ client, place }));
  const served = new Map<string, number>();
  let order = '';
  while (waiting.length > 0) {
    const next = nextInTurn(waiting, [], served)!;
    waiting.splice(waiting.indexOf(next), 1);
    order += next.client;
    served.set(next.client, order.length);
  }
  return order;
}

describe('turns', () => {
  it('go round among the clients, each in the order asked', () => {
    expect(orderOf('aaaab')).toBe('abaaa');
    expect(orderOf('aaabbbc')).toBe('abcabab');
    expect(nextInTurn([{ client: 'a' }, { client: 'b' }], ['a'], new Map())).toEqual({ client: 'b' });
    expect(nextInTurn([], ['a'], new Map())).toBeUndefined();
  });

  it('let nobody wait for more than one lay of each other client', () => {
    fc.assert(
      fc.property(fc.string({ unit: fc.constantFrom('a', 'b', 'c', 'd'), maxLength: 40 }), (asked) => {
        const order = orderOf(asked);
        for (const client of new Set(asked)) {
          const places = [...order].flatMap((who, place) => (who === client ? [place] : []));
          places.forEach((place, nth) => {
            const from = nth === 0 ? 0 : places[nth - 1]! + 1;
            const between = order.slice(from, place);
            expect(new Set(between).size).toBe(between.length);
          });
        }
        expect([...order].sort()).toEqual([...asked].sort());
      }),
    );
  });

  it('hold one client to its share of the queue, and leave the rest to others', async () => {
    const engine = new PuppetEngine();
    const lays = new Lays({
      runLay: engine.runLay,
      limits: { running: 1, waiting: 5, waitingOfClient: 3 },
    });
    const request = layRequestSchema.parse({ project: sampleProject() });
    const add = (client: string) => lays.add(request, client).kind;
    expect([1, 2, 3, 4, 5].map(() => add('greedy'))).toEqual([
      'accepted',
      'accepted',
      'accepted',
      'accepted',
      'yoursFull',
    ]);
    expect([add('modest'), add('modest'), add('modest')]).toEqual(['accepted', 'accepted', 'full']);
    const run = await engine.started(0);
    run.resolve(sampleProgress(500));
    await engine.started(1);
    await lays.close();
  });
});
