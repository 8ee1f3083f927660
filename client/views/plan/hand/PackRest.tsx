import { useEffect, useRef, useState } from 'preact/hooks';
import type { Layout } from '../../../../nesting/index.ts';
import { tidied } from '../../../../pattern/lay/hand/changes.ts';
import {
  type CopyId,
  type HandFault,
  type HandLay,
  isSameCopy,
  toPack,
  withLayouts,
} from '../../../../pattern/lay/hand/handLay.ts';
import { isBetterLayout, pack, prepare } from '../../../packing/pack.ts';
import type { CommandName } from '../../../state/command.ts';
import { t } from '../../../strings/index.ts';
import { formatLength } from '../../../strings/lengths.ts';
import { useProject, useSession } from '../../shared/hooks.ts';
import { Icon } from '../../shared/Icon.tsx';

interface PackRestProps {
  readonly hand: HandLay;
  readonly faults: readonly HandFault[];
  /** Writes a whole new arrangement into the document, as one step. */
  readonly commitAll: (next: HandLay, name: CommandName) => void;
}

/** Locked copies that break a rule among themselves, or by themselves: nothing can be packed around them. */
function areLockedInTheWay(hand: HandLay, faults: readonly HandFault[]): boolean {
  const isLocked = (id: CopyId): boolean => hand.locked.some((other) => isSameCopy(other, id));
  return faults.some(({ copies }) => copies.length > 0 && copies.every(isLocked));
}

/** How long the rest is packed, for each stretch of the cloth. */
const PACK_MS = 8_000;

/** Hands the arrangement back to the engine: all that is not locked packed anew, or only pushed together. */
export function PackRest({ hand, faults, commitAll }: PackRestProps) {
  const session = useSession();
  const { units } = useProject();
  const [shownMm, setShown] = useState<number | null>(null);
  const running = useRef<AbortController | null>(null);
  const [isRunning, setRunning] = useState(false);
  useEffect(() => {
    prepare();
    return () => running.current?.abort();
  }, []);

  const start = async (): Promise<void> => {
    if (areLockedInTheWay(hand, faults)) {
      session.messages.say(t.hand.lockedInTheWay);
      return;
    }
    const abort = new AbortController();
    running.current = abort;
    setRunning(true);
    const found: (Layout | null)[] = hand.stretches.map(() => null);
    const show = (): void => {
      if (found.every((layout) => layout !== null))
        setShown(found.reduce((sum, layout) => sum + (layout?.length ?? 0), 0));
    };
    try {
      await Promise.all(
        hand.stretches.map(async (_, index) => {
          const order = { problem: toPack(hand, index), seed: 1, maxMs: PACK_MS };
          const result = await pack(
            order,
            (layout) => {
              found[index] = layout;
              show();
            },
            abort.signal,
          );
          if (result) found[index] = result.layout;
        }),
      );
    } catch (error) {
      session.messages.say(error instanceof Error ? error.message : String(error));
    }
    running.current = null;
    setRunning(false);
    setShown(null);
    const layouts = hand.layouts.map((now, index) => {
      const layout = found[index];
      const isFaulty = faults.some(({ copies }) => copies.some(({ stretch }) => stretch === index));
      return layout && (isFaulty || isBetterLayout(layout, now)) ? layout : now;
    });
    if (layouts.every((layout, index) => layout === hand.layouts[index])) {
      session.messages.say(t.hand.packFailed);
      return;
    }
    const next = withLayouts(hand, layouts);
    commitAll(next, 'packRest');
    const length = layouts.reduce((sum, layout) => sum + layout.length, 0);
    session.announce(
      length > 0 ? t.hand.packed(formatLength(Math.round(length), units)) : t.hand.packedSheet,
    );
  };
  const tidy = (): void => {
    const next = tidied(hand);
    if (next) commitAll(next, 'tidyLay');
    else session.messages.say(t.hand.packFailed);
  };
  return (
    <section class="panel pack-rest" aria-label={t.hand.pack}>
      <div class="buttons">
        <button type="button" title={t.hand.tidyHelp} disabled={isRunning} onClick={tidy}>
          {t.hand.tidy}
        </button>
        {isRunning ? (
          <button type="button" class="primary" onClick={() => running.current?.abort()}>
            <Icon name="stop" />
            {t.hand.stop}
          </button>
        ) : (
          <button type="button" title={t.hand.packHelp} onClick={() => void start()}>
            {t.hand.pack}
          </button>
        )}
      </div>
      <p class="field-help" role="status">
        {isRunning
          ? `${t.hand.packing} ${shownMm === null || shownMm === 0 ? '' : t.hand.fitsLength(formatLength(Math.round(shownMm), units))}`
          : t.hand.packHelp}
      </p>
    </section>
  );
}
