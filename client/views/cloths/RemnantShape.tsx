import { useLayoutEffect, useRef, useState } from 'preact/hooks';
import type { Point } from '../../../nesting/geometry/points.ts';
import { boundingBox, signedArea } from '../../../nesting/geometry/rings.ts';
import { ringProblems } from '../../../nesting/geometry/validity.ts';
import type { Remnant } from '../../../pattern/exchange/project.ts';
import { Choice } from '../../fields/Choice.tsx';
import { CountField, LengthField } from '../../fields/NumberFields.tsx';
import { RemnantView } from '../../render/remnantView.ts';
import { changeCloth, reshapeRemnant } from '../../state/clothCommands.ts';
import { rectangleOutline } from '../../state/pieceCommands.ts';
import { t } from '../../strings/index.ts';
import { formatArea, formatLength } from '../../strings/lengths.ts';
import { useProject, useSession } from '../shared/hooks.ts';
import { Icon } from '../shared/Icon.tsx';
import { Flaws } from './Flaws.tsx';

function isRectangle(outline: Remnant['outline']): boolean {
  if (outline.length !== 4) return false;
  const box = boundingBox(outline);
  return outline.every(([x, y]) => (x === box.minX || x === box.maxX) && (y === box.minY || y === box.maxY));
}

/** Outline and flaws of a remnant, drawn and typed. */
export function RemnantShape({ remnant }: { readonly remnant: Remnant }) {
  const session = useSession();
  const { units } = useProject();
  const [shaping, setShaping] = useState(!isRectangle(remnant.outline));
  const asPolygon = shaping || !isRectangle(remnant.outline);
  const box = boundingBox(remnant.outline);
  const length = box.maxX - box.minX;
  const width = box.maxY - box.minY;
  const crosses = ringProblems(remnant.outline).some((problem) => problem.kind === 'self-intersection');
  const area =
    Math.abs(signedArea(remnant.outline)) -
    remnant.flaws.reduce((sum, flaw) => sum + Math.abs(signedArea(flaw)), 0);
  return (
    <fieldset data-spot="shape" class="part">
      <legend>{t.cloth.outline}</legend>
      <RemnantDrawing remnant={remnant} isShaping={asPolygon} />
      <p class="faint">{t.cloth.area(formatArea(area, units))}</p>
      {crosses && (
        <p class="banner bad" role="alert">
          <Icon name="lacking" />
          <span>{t.cloth.crossing}</span>
        </p>
      )}
      <Choice
        label={t.cloth.outline}
        hideLabel
        value={asPolygon ? 'polygon' : 'rectangle'}
        help={t.cloth.outlineHelp}
        options={[
          { value: 'rectangle', label: t.cloth.asRectangle },
          { value: 'polygon', label: t.cloth.asPolygon },
        ]}
        onChange={(value) => {
          setShaping(value === 'polygon');
          if (value === 'rectangle' && !isRectangle(remnant.outline)) {
            session.do(reshapeRemnant(remnant, rectangleOutline(length, width)));
          }
        }}
      />
      {asPolygon ? (
        <Corners remnant={remnant} />
      ) : (
        <div class="fields">
          <LengthField
            label={t.cloth.along}
            mm={length}
            onChange={(mm) => session.do(reshapeRemnant(remnant, rectangleOutline(mm, width)))}
          />
          <LengthField
            label={t.cloth.across}
            mm={width}
            onChange={(mm) => session.do(reshapeRemnant(remnant, rectangleOutline(length, mm)))}
          />
        </div>
      )}
      <CountField
        label={t.cloth.quantity}
        count={remnant.quantity}
        most={200}
        onChange={(quantity) => session.do(changeCloth(remnant, { quantity: Math.max(1, quantity) }))}
      />
      <p class="field-help">{t.cloth.quantityHelp}</p>
      <Flaws cloth={remnant} />
    </fieldset>
  );
}

function RemnantDrawing({ remnant, isShaping }: { readonly remnant: Remnant; readonly isShaping: boolean }) {
  const session = useSession();
  const { units } = useProject();
  const host = useRef<HTMLDivElement>(null);
  const view = useRef<RemnantView | null>(null);
  const now = useRef(remnant);
  now.current = remnant;
  useLayoutEffect(() => {
    if (!host.current) return;
    view.current = new RemnantView(host.current, {
      onCorner: (index, point, phase) => {
        const key = `corner ${now.current.id} ${index}`;
        const moved = now.current.outline.map((old, at) => (at === index ? point : old));
        if (phase === 'drag') session.do(reshapeRemnant(now.current, moved, key));
        else if (phase === 'cancel') session.takeBack(key);
        else session.seal();
      },
      onPush: (index, along, across) => {
        const newest = session.project.cloths.find((entry) => entry.id === now.current.id);
        if (newest?.kind !== 'remnant') return;
        const moved = newest.outline.map(
          (old, at): Point => (at === index ? [old[0] + along, old[1] + across] : old),
        );
        session.do(reshapeRemnant(newest, moved, `corner keys ${newest.id} ${index}`));
      },
    });
    return () => view.current?.destroy();
  }, [session]);
  useLayoutEffect(() => {
    const box = boundingBox(remnant.outline);
    view.current?.show({
      remnant,
      isShaping,
      words: {
        title: t.cloth.preview(remnant.name),
        length: formatLength(box.maxX - box.minX, units),
        width: formatLength(box.maxY - box.minY, units),
        grain: t.cloth.grainMark,
        corner: (number, [x, y]) => t.cloth.corner(number, formatLength(x, units), formatLength(y, units)),
        flaw: (number) => String(number),
      },
    });
  }, [remnant, isShaping, units]);
  return <div ref={host} class="remnant-drawing" />;
}

function Corners({ remnant }: { readonly remnant: Remnant }) {
  const session = useSession();
  const set = (index: number, point: Point): void =>
    session.do(
      reshapeRemnant(
        remnant,
        remnant.outline.map((old, at) => (at === index ? point : old)),
      ),
    );
  const insertAfter = (index: number): void => {
    const from = remnant.outline[index];
    const to = remnant.outline[(index + 1) % remnant.outline.length];
    if (!from || !to) return;
    const middle: Point = [Math.round((from[0] + to[0]) / 2), Math.round((from[1] + to[1]) / 2)];
    session.do(reshapeRemnant(remnant, remnant.outline.toSpliced(index + 1, 0, middle)));
  };
  return (
    <>
      <p class="field-help">{t.cloth.pointsHelp}</p>
      <ol class="corners" aria-label={t.cloth.points}>
        {remnant.outline.map((point, index) => (
          // Corners have no identity of their own but their place round the edge.
          <li key={String(index)}>
            <span class="corner-number" aria-hidden="true">
              {index + 1}
            </span>
            <LengthField
              label={t.cloth.pointAlong(index + 1)}
              shortLabel={index === 0 ? t.cloth.columnAlong : ''}
              allowZero
              mm={point[0]}
              onChange={(mm) => set(index, [mm, point[1]])}
            />
            <LengthField
              label={t.cloth.pointAcross(index + 1)}
              shortLabel={index === 0 ? t.cloth.columnAcross : ''}
              allowZero
              mm={point[1]}
              onChange={(mm) => set(index, [point[0], mm])}
            />
            <button
              type="button"
              class="quiet"
              aria-label={t.cloth.addPointAfter(index + 1)}
              onClick={() => insertAfter(index)}
            >
              <Icon name="plus" />
            </button>
            <button
              type="button"
              class="quiet"
              disabled={remnant.outline.length <= 3}
              aria-label={t.cloth.removePoint(index + 1)}
              onClick={() => session.do(reshapeRemnant(remnant, remnant.outline.toSpliced(index, 1)))}
            >
              <Icon name="close" />
            </button>
          </li>
        ))}
      </ol>
    </>
  );
}
