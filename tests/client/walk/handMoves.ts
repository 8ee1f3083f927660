/** Everything a hand does to a lay: whatever it does, in whatever state the rest of the document is. */

import type { Command, CommandName } from '../../../client/state/command.ts';
import { arrange, keepForHand } from '../../../client/state/handCommands.ts';
import { currentPlan } from '../../../client/state/layCommands.ts';
import type { ClothLay, Plan, Project } from '../../../pattern/exchange/project.ts';
import { handedOver, swapped, tidied } from '../../../pattern/lay/hand/changes.ts';
import {
  type CopyId,
  copiesOf,
  type HandLay,
  placementOf,
  posesOf,
  putDown,
  takeUp,
  turnedTo,
  withCopyAt,
  withLayouts,
  withLock,
} from '../../../pattern/lay/hand/handLay.ts';
import { freePlaceFor } from '../../../pattern/lay/hand/handPlaces.ts';
import { turnNear } from '../../../pattern/lay/hand/turns.ts';
import { type Move, on, pick } from './basicMoves.ts';

const NOW = '2026-01-01T00:00:00.000Z';
const said = (): string => 'as it lies';

interface InHand {
  readonly plan: Plan;
  readonly lay: ClothLay;
  readonly hand: HandLay;
  readonly id: CopyId;
}

/** A copy in a lay of a kept plan, if that lay can still be taken up. */
function inHand(p: Project, a: number, b: number): InHand | undefined {
  const plan = pick(
    p.plans.filter(({ id }) => !id.startsWith('now.')),
    a,
  );
  const lay = plan && pick(plan.results, b);
  const hand = lay && takeUp(p, lay);
  if (!plan || !lay || !hand || typeof hand === 'string') return undefined;
  const id = pick(
    hand.stretches.flatMap((_, stretch) => copiesOf(hand, stretch)).map((copy) => copy.id),
    b,
  );
  return id && { plan, lay, hand, id };
}

const put = ({ plan, lay }: InHand, next: HandLay, name: CommandName): Command =>
  arrange({ planId: plan.id, clothId: lay.clothId, spread: lay.spread }, [putDown(next, said)], name, 'it');

const handMove =
  (name: CommandName, change: (held: InHand, c: number) => HandLay | null | undefined): Move =>
  (p, a, b, c) =>
    on(inHand(p, a, b), (held) => {
      const next = change(held, c);
      return next ? put(held, next, name) : undefined;
    });

export const HAND_MOVES: readonly Move[] = [
  (p, a) =>
    on(pick(p.materials, a), (material) =>
      on(
        currentPlan(p, material.id),
        (plan) => keepForHand(p, plan, material.id, (number) => `${material.name} ${number}`, NOW).command,
      ),
    ),
  handMove('movePlaced', ({ hand, id }, c) => {
    const at = placementOf(hand, id);
    return at && withCopyAt(hand, id, { ...at, x: at.x + (c % 60) - 20, y: at.y + (c % 7) });
  }),
  handMove(
    'turnPlaced',
    ({ hand, id }, c) =>
      placementOf(hand, id) &&
      withCopyAt(hand, id, turnedTo(hand, id, turnNear(hand, id, c * 7, c % 2 === 0))),
  ),
  handMove('mirrorPlaced', ({ hand, id }) => {
    const at = placementOf(hand, id);
    const other = posesOf(hand, id).poses.find(({ mirrored }) => mirrored !== at?.mirrored);
    return at && other && withCopyAt(hand, id, turnedTo(hand, id, other));
  }),
  handMove('swapPlaced', ({ hand, id }, c) => {
    const other = pick(copiesOf(hand, id.stretch), c);
    return other && swapped(hand, id, other.id);
  }),
  handMove('parkPlaced', ({ hand, id }) => placementOf(hand, id) && withCopyAt(hand, id, null)),
  handMove('putPlaced', ({ hand, id }, c) => {
    const parked = copiesOf(hand, id.stretch).find(({ placement }) => placement === null)?.id;
    const place = parked && freePlaceFor(hand, parked, c % 2 === 0);
    return place && withCopyAt(hand, parked, place);
  }),
  handMove('lockPlaced', ({ hand, id }, c) => withLock(hand, id, c % 2 === 0)),
  handMove('tidyLay', ({ hand }) => tidied(hand)),
  // What the engine gives back is a layout like any other.
  handMove('packRest', ({ hand }) => withLayouts(hand, hand.layouts)),
  (p, a, b, c) =>
    on(inHand(p, a, b), (held) =>
      on(
        pick(
          held.plan.results.filter(({ clothId }) => clothId !== held.lay.clothId),
          c,
        ),
        (to) => {
          const given = handedOver(p, held.hand, held.id, to, said);
          const { id: planId } = held.plan;
          const { clothId, spread } = held.lay;
          return given
            ? arrange({ planId, clothId, spread }, [given.from, given.to], 'handOver', 'it')
            : undefined;
        },
      ),
    ),
];
