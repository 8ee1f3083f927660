import { useState } from 'preact/hooks';
import { boundingBox } from '../../../../nesting/geometry/rings.ts';
import { placeRing } from '../../../../nesting/geometry/transforms.ts';
import type { ClothLay } from '../../../../pattern/exchange/project.ts';
import { handedOver, swapped } from '../../../../pattern/lay/hand/changes.ts';
import {
  type CopyId,
  copiesOf,
  isSameCopy,
  placementOf,
  posesOf,
  segmentOf,
  turnedTo,
  withCopyAt,
} from '../../../../pattern/lay/hand/handLay.ts';
import { freePlaceFor } from '../../../../pattern/lay/hand/handPlaces.ts';
import { turnsOf } from '../../../../pattern/lay/hand/turns.ts';
import { Select } from '../../../fields/Choice.tsx';
import { AngleField, LengthField } from '../../../fields/NumberFields.tsx';
import type { PlacedKey } from '../../../render/handView.ts';
import { arrange } from '../../../state/handCommands.ts';
import { t } from '../../../strings/index.ts';
import { useSession } from '../../shared/hooks.ts';
import type { BenchProps, Commit } from './HandEditor.tsx';
import { copyAt, copyName, originOf, reasonIn } from './handState.ts';

interface ChosenPieceProps extends BenchProps {
  readonly chosen: CopyId | null;
  readonly choose: (key: PlacedKey | null) => void;
  readonly commit: Commit;
  readonly actions: {
    readonly turn: (id: CopyId, by: 1 | -1) => void;
    readonly mirror: (id: CopyId) => void;
    readonly lock: (id: CopyId) => void;
    readonly park: (id: CopyId) => void;
  };
}

/** The piece in hand: chosen from a list as well, moved by numbers as well. */
export function ChosenPiece(props: ChosenPieceProps) {
  const { lay, hand, chosen, choose } = props;
  const options = lay.segments.flatMap((segment, s) =>
    segment.placed.flatMap((_, index) => {
      const id = copyAt(lay, hand, { segment: s, index });
      return id ? [{ value: `${s} ${index}`, label: copyName(hand, id), id }] : [];
    }),
  );
  const now = chosen && options.find(({ id }) => isSameCopy(id, chosen));
  return (
    <section class="panel chosen-piece" aria-label={t.hand.piece}>
      <Select
        label={t.hand.piece}
        value={now?.value ?? ''}
        options={[{ value: '', label: t.hand.choosePiece }, ...options]}
        onChange={(value) => {
          const [segment, index] = value.split(' ').map(Number);
          choose(value === '' ? null : { segment: segment!, index: index! });
        }}
      />
      {chosen && placementOf(hand, chosen) ? (
        <>
          <Position {...props} chosen={chosen} />
          <Actions {...props} chosen={chosen} />
          <SwapWith {...props} chosen={chosen} />
          <OtherSheet {...props} chosen={chosen} />
          <OtherCloth {...props} chosen={chosen} />
        </>
      ) : (
        <p class="faint">{t.hand.nothingChosen}</p>
      )}
    </section>
  );
}

type WithChosen = ChosenPieceProps & { readonly chosen: CopyId };

/** Spreads with a fold along their lower edge, from which places are measured. */
const FOLDED_BELOW: ReadonlySet<ClothLay['spread']> = new Set(['folded', 'middle', 'partial']);

function Position({ project, lay, hand, chosen, commit }: WithChosen) {
  const at = placementOf(hand, chosen)!;
  const item = hand.stretches[chosen.stretch]!.problem.items.find(({ id }) => id === chosen.item)!;
  const box = boundingBox(placeRing(item.outline, at.rotation, at.mirrored, at.x, at.y));
  const segment = segmentOf(hand, chosen);
  const [fromX, fromY] = originOf(project, lay, segment);
  const move = (x: number, y: number): void =>
    commit(withCopyAt(hand, chosen, { ...at, x, y }), 'movePlaced', chosen);
  const isRemnant = hand.cloth.kind === 'remnant';
  const isFolded = FOLDED_BELOW.has(lay.segments[segment]?.spread ?? 'single');
  const across = isRemnant ? t.hand.acrossRemnant : isFolded ? t.hand.acrossFold : t.hand.acrossEdge;
  const { canTurnFinely } = turnsOf(hand, chosen);
  return (
    <div class="row">
      <LengthField
        label={isRemnant ? t.hand.alongRemnant : t.hand.along}
        mm={tenths(box.minX + fromX)}
        allowZero
        onChange={(mm) => move(at.x + mm - fromX - box.minX, at.y)}
      />
      <LengthField
        label={across}
        mm={tenths(box.minY + fromY)}
        allowZero
        onChange={(mm) => move(at.x, at.y + mm - fromY - box.minY)}
      />
      {canTurnFinely && (
        <AngleField
          label={t.hand.turnTo}
          degrees={tenths(at.rotation)}
          onChange={(rotation) =>
            commit(
              withCopyAt(hand, chosen, turnedTo(hand, chosen, { rotation, mirrored: at.mirrored })),
              'turnPlaced',
              chosen,
            )
          }
        />
      )}
    </div>
  );
}

/** As fine as anyone chalks. */
const tenths = (mm: number): number => Math.round(mm * 10) / 10;

function Actions({ hand, chosen, actions }: WithChosen) {
  const at = placementOf(hand, chosen)!;
  const { poses } = posesOf(hand, chosen);
  const turns = poses.filter(({ mirrored }) => mirrored === at.mirrored).length;
  const canMirror = poses.some(({ mirrored }) => mirrored !== at.mirrored);
  const isLocked = hand.locked.some((id) => isSameCopy(id, chosen));
  return (
    <>
      <div class="buttons">
        <button type="button" disabled={turns < 2} onClick={() => actions.turn(chosen, 1)}>
          {t.hand.turn}
        </button>
        <button type="button" disabled={!canMirror} onClick={() => actions.mirror(chosen)}>
          {t.hand.mirror}
        </button>
        <button type="button" aria-pressed={isLocked} onClick={() => actions.lock(chosen)}>
          {isLocked ? t.hand.unlock : t.hand.lock}
        </button>
        <button type="button" class="quiet" onClick={() => actions.park(chosen)}>
          {t.hand.park}
        </button>
      </div>
      {turns < 2 && <p class="field-help">{t.hand.noTurn}</p>}
      {!canMirror && <p class="field-help">{t.hand.noMirror}</p>}
      {isLocked && <p class="field-help">{t.hand.locked}</p>}
    </>
  );
}

function SwapWith({ hand, chosen, commit }: WithChosen) {
  const [other, setOther] = useState('');
  const options = copiesOf(hand, chosen.stretch).flatMap(({ id, placement }) =>
    placement && !isSameCopy(id, chosen)
      ? [{ value: `${id.copy} ${id.item}`, label: copyName(hand, id), id }]
      : [],
  );
  const found = options.find(({ value }) => value === other);
  if (options.length === 0) return null;
  return (
    <div class="row">
      <Select
        label={t.hand.swapWith}
        value={found?.value ?? ''}
        options={[{ value: '', label: t.hand.swapNone }, ...options]}
        onChange={setOther}
      />
      <button
        type="button"
        disabled={!found}
        onClick={() => found && commit(swapped(hand, chosen, found.id), 'swapPlaced', chosen)}
      >
        {t.hand.swapDone}
      </button>
    </div>
  );
}

/** Of several sheets alike, any may hold the piece: it goes to a free place there. */
function OtherSheet({ hand, chosen, choose, commit }: WithChosen) {
  const session = useSession();
  const at = placementOf(hand, chosen)!;
  const { cloth } = hand;
  if (cloth.kind !== 'remnant' || cloth.quantity < 2) return null;
  const options = Array.from({ length: cloth.quantity }, (_, sheet) => sheet)
    .filter((sheet) => sheet !== at.sheet)
    .map((sheet) => ({ value: String(sheet), label: t.hand.sheet(sheet + 1) }));
  const move = (value: string): void => {
    const place = freePlaceFor(withCopyAt(hand, chosen, null), chosen, true, Number(value));
    if (!place) return void session.messages.say(t.hand.sheetFull(copyName(hand, chosen), Number(value) + 1));
    choose(null);
    commit(withCopyAt(hand, chosen, place), 'movePlaced', chosen);
  };
  return (
    <Select
      label={t.hand.otherSheet}
      value=""
      options={[{ value: '', label: t.hand.otherSheetNone(at.sheet! + 1) }, ...options]}
      onChange={(value) => value !== '' && move(value)}
    />
  );
}

/** Remnants and a roll share what is to be cut: a piece may go from one to the other. */
function OtherCloth({ project, address, plan, lay, hand, chosen, choose }: WithChosen) {
  const session = useSession();
  const others = plan.results.filter(
    (other) => other.materialId === lay.materialId && other.clothId !== lay.clothId,
  );
  const kindOf = (id: string) => project.cloths.find((cloth) => cloth.id === id)?.kind;
  // Rolls are alternatives for the same rest: a piece given from one to another would be cut twice or never.
  const options = others
    .filter((other) => kindOf(other.clothId) === 'remnant' || hand.cloth.kind === 'remnant')
    .map((other) => ({
      value: `${other.clothId} ${other.spread}`,
      label: project.cloths.find((cloth) => cloth.id === other.clothId)?.name ?? other.clothId,
      other,
    }));
  if (options.length === 0) return null;
  const give = (value: string): void => {
    const option = options.find((entry) => entry.value === value);
    if (!option) return;
    const name = copyName(hand, chosen);
    const result = handedOver(project, hand, chosen, option.other, reasonIn(hand, project.units));
    if (!result) return void session.messages.say(t.hand.otherClothRefused);
    choose(null);
    session.do(arrange(address, [result.from, result.to], 'handOver', name));
    session.announce(t.hand.given(name, option.label));
  };
  return (
    <Select
      label={t.hand.otherCloth}
      value=""
      options={[{ value: '', label: t.hand.otherClothNone }, ...options]}
      onChange={give}
    />
  );
}
