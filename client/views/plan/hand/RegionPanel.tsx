import { useState } from 'preact/hooks';
import type { Box } from '../../../../nesting/geometry/points.ts';
import type { ClothLay, Project } from '../../../../pattern/exchange/project.ts';
import { type CopyId, copiesOf, type HandLay } from '../../../../pattern/lay/hand/handLay.ts';
import { copiesWithin } from '../../../../pattern/lay/hand/region.ts';
import { LengthField } from '../../../fields/NumberFields.tsx';
import { t } from '../../../strings/index.ts';
import { Icon } from '../../shared/Icon.tsx';
import { originOf } from './handState.ts';

interface RegionPanelProps {
  readonly project: Project;
  readonly lay: ClothLay;
  readonly hand: HandLay;
  readonly isDrawing: boolean;
  readonly setDrawing: (on: boolean) => void;
  readonly lockAll: (ids: readonly CopyId[], isLocked: boolean) => void;
}

/** Locking all that lies in a part of the cloth, drawn on the picture or given by numbers. */
export function RegionPanel({ project, lay, hand, isDrawing, setDrawing, lockAll }: RegionPanelProps) {
  const count = hand.locked.length;
  const all = hand.stretches.flatMap((_, stretch) =>
    copiesOf(hand, stretch).flatMap(({ id, placement }) => (placement ? [id] : [])),
  );
  return (
    <section class="panel region-part" aria-label={t.hand.region}>
      <h3>{t.hand.region}</h3>
      <div class="buttons">
        <button type="button" aria-pressed={isDrawing} onClick={() => setDrawing(!isDrawing)}>
          <Icon name="region" />
          {isDrawing ? t.hand.regionDrawing : t.hand.regionDraw}
        </button>
        <button
          type="button"
          class="quiet"
          disabled={count === all.length}
          onClick={() => lockAll(all, true)}
        >
          {t.hand.lockAll}
        </button>
        <button
          type="button"
          class="quiet"
          disabled={count === 0}
          onClick={() => lockAll(hand.locked, false)}
        >
          {t.hand.unlockAll}
        </button>
      </div>
      <p class="field-help">
        {isDrawing ? t.hand.regionDrawingHelp : t.hand.regionHelp}{' '}
        <strong>{t.hand.lockedCount(count)}</strong>
      </p>
      <ByNumbers project={project} lay={lay} hand={hand} lockAll={lockAll} />
    </section>
  );
}

/** The same region by its distances from the cut end and the edge, for those who don't drag. */
function ByNumbers({ project, lay, hand, lockAll }: Omit<RegionPanelProps, 'isDrawing' | 'setDrawing'>) {
  const { cloth } = hand;
  const [region, setRegion] = useState<Box>(() => ({
    minX: 0,
    maxX: Math.ceil(cloth.kind === 'roll' ? lay.usedMm : widestOf(cloth.outline, 0)),
    minY: 0,
    maxY: Math.ceil(cloth.kind === 'roll' ? cloth.widthMm : widestOf(cloth.outline, 1)),
  }));
  const within = copiesWithin(hand, (segment) => {
    const [x, y] = originOf(project, lay, segment);
    return { minX: region.minX - x, maxX: region.maxX - x, minY: region.minY - y, maxY: region.maxY - y };
  });
  const field = (key: keyof Box, label: string) => (
    <LengthField
      label={label}
      allowZero
      mm={region[key]}
      onChange={(mm) => setRegion({ ...region, [key]: mm })}
    />
  );
  return (
    <details class="help">
      <summary>{t.hand.regionNumbers}</summary>
      <div>
        <div class="fields">
          {field('minX', t.hand.regionFromAlong)}
          {field('maxX', t.hand.regionToAlong)}
          {field('minY', t.hand.regionFromAcross)}
          {field('maxY', t.hand.regionToAcross)}
        </div>
        <button type="button" disabled={within.length === 0} onClick={() => lockAll(within, true)}>
          {t.hand.regionLock(within.length)}
        </button>
      </div>
    </details>
  );
}

function widestOf(outline: readonly (readonly [number, number])[], axis: 0 | 1): number {
  return outline.reduce((most, point) => Math.max(most, point[axis]), 0);
}
