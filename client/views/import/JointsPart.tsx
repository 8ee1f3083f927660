import { useState } from 'preact/hooks';
import { lengthAlong, SAME_LENGTH_MM, stretchPoints } from '../../../pattern/parts/index.ts';
import type { DrawingOutline, ReadDrawing } from '../../../pattern/reading/drawing.ts';
import { Select } from '../../fields/Choice.tsx';
import { LengthField } from '../../fields/NumberFields.tsx';
import { isMade, type JointChoice, type PlannedJoint } from '../../reading/joining.ts';
import { outlineById, type Pick } from '../../reading/picking.ts';
import { t } from '../../strings/index.ts';
import { formatLength } from '../../strings/lengths.ts';
import { useProject } from '../shared/hooks.ts';
import { Icon } from '../shared/Icon.tsx';
import { JoinFields, type JoinValue, joinableSides, sideName, usualJoin } from '../shared/JoinFields.tsx';

interface JointsPartProps {
  readonly reading: ReadDrawing;
  readonly picks: readonly Pick[];
  readonly joints: readonly PlannedJoint[];
  /** Which of them the maker planned herself. */
  readonly own: readonly PlannedJoint[];
  readonly onChoose: (joint: PlannedJoint, choice: JointChoice, lapMm: number) => void;
  readonly onOwn: (own: readonly PlannedJoint[]) => void;
  readonly onTake: (outlineIds: readonly string[]) => void;
}

const USUAL_LAP_MM = { cm: 10, mm: 10, in: 9.525 } as const;

/** Which outlines are parts of one piece, by letters at their edges or as the maker says. */
export function JointsPart(props: JointsPartProps) {
  const { reading, picks, joints, own, onOwn } = props;
  const outlines = outlineById(reading);
  if (joints.length === 0 && picks.length < 2) return null;
  const letters = joints.length - own.length;
  return (
    <details class="help joints-part" open={joints.length > 0}>
      <summary>{t.parts.importTitle}</summary>
      <div>
        {letters > 0 && <p>{t.parts.importLead(letters)}</p>}
        <ul class="plain-list">
          {joints.map((joint) => (
            <JointLine key={joint.key} {...props} joint={joint} outlines={outlines} />
          ))}
        </ul>
        {picks.length > 1 && (
          <OwnJoint
            picks={picks}
            outlines={outlines}
            number={own.length + 1}
            onPlan={(joint) => onOwn([...own, joint])}
          />
        )}
      </div>
    </details>
  );
}

interface JointLineProps extends JointsPartProps {
  readonly joint: PlannedJoint;
  readonly outlines: ReadonlyMap<string, DrawingOutline>;
}

function JointLine({ picks, joint, own, outlines, onChoose, onOwn, onTake }: JointLineProps) {
  const { units } = useProject();
  const { letter, first, second, choice, lapMm, offMm } = joint;
  const nameOf = (id: string): string =>
    picks.find(({ outlineId }) => outlineId === id)?.name ?? outlines.get(id)?.suggestedName ?? '';
  const ring = outlines.get(first.outlineId)?.ring ?? [];
  const ids = [first.outlineId, ...(second ? [second.outlineId] : [])];
  const isTaken = ids.every((id) => picks.some(({ outlineId }) => outlineId === id));
  const isUnlike = offMm > SAME_LENGTH_MM;
  const isOwn = own.some(({ key }) => key === joint.key);
  const choices: readonly JointChoice[] =
    !second || isUnlike ? ['later', 'never'] : ['butt', 'lap', 'later', 'never'];
  const [firstName, secondName] = [nameOf(first.outlineId), second ? nameOf(second.outlineId) : ''];
  return (
    <li>
      <p>
        {second
          ? t.parts.pair(letter, firstName, secondName, formatLength(first.lengthMm, units))
          : t.parts.lone(letter, firstName, sideName({ outline: ring }, first, units))}
      </p>
      {isUnlike && (
        <p class="field-fault" role="status">
          <Icon name="lacking" /> {t.parts.unlike(formatLength(offMm, units))}
        </p>
      )}
      <div class="row">
        <Select
          label={t.parts.choiceOf(letter)}
          hideLabel
          value={choice}
          options={choices.map((value) => ({ value, label: t.parts.choices[value] }))}
          onChange={(next) => onChoose(joint, next, next === 'lap' ? lapMm || USUAL_LAP_MM[units] : 0)}
        />
        {choice === 'lap' && (
          <LengthField label={t.parts.lapMm} mm={lapMm} onChange={(mm) => onChoose(joint, 'lap', mm)} />
        )}
        {isOwn && (
          <button
            type="button"
            class="quiet"
            aria-label={t.parts.forgetPlanned(letter)}
            onClick={() => onOwn(own.filter(({ key }) => key !== joint.key))}
          >
            <Icon name="close" />
          </button>
        )}
      </div>
      {isMade(joint) && !isTaken && (
        <p class="row field-help">
          {t.parts.notTaken}{' '}
          <button
            type="button"
            class="quiet"
            aria-label={t.parts.takenBoth(firstName, secondName)}
            onClick={() => onTake(ids)}
          >
            {t.parts.takeBoth}
          </button>
        </p>
      )}
    </li>
  );
}

interface OwnJointProps {
  readonly picks: readonly Pick[];
  readonly outlines: ReadonlyMap<string, DrawingOutline>;
  readonly number: number;
  readonly onPlan: (joint: PlannedJoint) => void;
}

/** Two outlines joined at edges that bear no letter. */
function OwnJoint({ picks, outlines, number, onPlan }: OwnJointProps) {
  const [isOpen, setOpen] = useState(false);
  const [chosen, setChosen] = useState<JoinValue | null>(null);
  const joinables = picks.flatMap(({ outlineId, name }) => {
    const outline = outlines.get(outlineId)?.ring;
    return outline ? [{ id: outlineId, name, outline }] : [];
  });
  const byId = new Map(joinables.map((entry) => [entry.id, entry]));
  const [a, b] = joinables;
  if (!a || !b) return null;
  const isThere = chosen !== null && byId.has(chosen.firstId) && byId.has(chosen.secondId);
  const value = isThere ? chosen : usualJoin(a, b);
  const change = (next: JoinValue): void => {
    const first = byId.get(next.firstId) ?? a;
    const other = joinables.find(({ id }) => id !== first.id) ?? b;
    const second = next.secondId === first.id ? other : (byId.get(next.secondId) ?? other);
    const isSame = next.firstId === value.firstId && second.id === value.secondId;
    setChosen(isSame ? next : { ...usualJoin(first, second), way: next.way, lapMm: next.lapMm });
  };
  const plan = (): void => {
    const mark = (id: string, side: number) => {
      const entry = byId.get(id);
      const stretch = entry && joinableSides(entry)[side];
      return stretch ? { outlineId: id, letter: t.parts.ownName(number), ...stretch, lengthMm: 0 } : null;
    };
    const first = mark(value.firstId, value.firstSide);
    const second = mark(value.secondId, value.secondSide);
    if (!first || !second) return;
    const lengths = [first, second].map((side) =>
      lengthAlong(stretchPoints(byId.get(side.outlineId)?.outline ?? [], side) ?? []),
    );
    const [here = 0, there = 0] = lengths;
    onPlan({
      key: `own ${number} ${first.outlineId} ${second.outlineId}`,
      letter: t.parts.ownName(number),
      first: { ...first, lengthMm: here },
      second: { ...second, lengthMm: there },
      // Lapped edges may differ where the sides slant; whether they fit is told when they are joined.
      offMm: value.way === 'lap' ? 0 : Math.abs(here - there),
      choice: value.way,
      lapMm: value.lapMm,
    });
    setOpen(false);
  };
  return (
    <details class="help" open={isOpen} onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>{t.parts.ownTitle}</summary>
      <div>
        <JoinFields value={value} firsts={joinables} seconds={joinables} onChange={change} />
        <button type="button" onClick={plan}>
          {t.parts.plan}
        </button>
      </div>
    </details>
  );
}
