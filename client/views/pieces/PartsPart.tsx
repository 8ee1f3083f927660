import { useState } from 'preact/hooks';
import type { Piece } from '../../../pattern/exchange/project.ts';
import {
  type JointAt,
  JointFault,
  jointStates,
  putTogether,
  stateInWords,
} from '../../../pattern/parts/index.ts';
import { Choice } from '../../fields/Choice.tsx';
import { LengthField } from '../../fields/NumberFields.tsx';
import { changeJoint, forgetJoint, joinParts, takeApart } from '../../state/partCommands.ts';
import { language, t } from '../../strings/index.ts';
import { useProject, useSession } from '../shared/hooks.ts';
import { Icon } from '../shared/Icon.tsx';
import { JoinFields, type JoinValue, joinableSides, sideName, usualJoin } from '../shared/JoinFields.tsx';
import { JointPreview } from './JointPreview.tsx';

const USUAL_LAP_MM = { cm: 10, mm: 10, in: 9.525 } as const;

interface PartsPartProps {
  readonly piece: Piece;
  /** Brings in another drawing: there a missing partner may be. */
  readonly onBringIn: () => void;
}

/** What parts a piece is made of, what it still waits for, and what else it may be joined with. */
export function PartsPart({ piece, onBringIn }: PartsPartProps) {
  const project = useProject();
  const others = project.pieces.filter(({ id, variant }) => id !== piece.id && !variant);
  const states = jointStates(project, piece);
  if (!piece.madeOf && states.length === 0 && others.length === 0) return null;
  return (
    <fieldset data-spot="parts" class="part parts-part">
      <legend>{t.parts.title}</legend>
      {piece.madeOf && <MadeOf piece={piece} />}
      {states.length > 0 && <OpenJoints piece={piece} onBringIn={onBringIn} />}
      {others.length > 0 && <JoinOther piece={piece} others={others} />}
    </fieldset>
  );
}

/** Runs a command that may find that parts don't fit; says why. */
function useJoining(): (work: () => void) => void {
  const { messages } = useSession();
  return (work) => {
    try {
      work();
    } catch (error) {
      if (!(error instanceof JointFault)) throw error;
      messages.say(error.inLanguage(language), { tone: 'bad' });
    }
  };
}

function MadeOf({ piece }: { readonly piece: Piece }) {
  const session = useSession();
  const project = useProject();
  const joining = useJoining();
  const { madeOf } = piece;
  if (!madeOf) return null;
  const apart = (): void =>
    joining(() => {
      const command = takeApart(session.project, piece);
      if (!command) return;
      session.do(command);
      session.announce(t.parts.apart(...command.names));
    });
  return (
    <>
      <p>{t.parts.madeOf(madeOf.parts.map(({ name }) => name))}</p>
      <ul class="plain-list">
        {madeOf.joints.map((joint, index) => (
          <li key={`${joint.letter} ${joint.first.of} ${joint.second.of}`} class="row">
            <Choice
              label={t.parts.joint(joint.letter)}
              value={joint.way}
              options={(['butt', 'lap'] as const).map((way) => ({ value: way, label: t.parts.ways[way] }))}
              onChange={(way) =>
                joining(() => {
                  const lapMm = way === 'lap' ? joint.lapMm || USUAL_LAP_MM[project.units] : 0;
                  session.do(changeJoint(session.project, piece, index, { way, lapMm }));
                })
              }
            />
            {joint.way === 'lap' && (
              <LengthField
                label={t.parts.lapMm}
                mm={joint.lapMm}
                onChange={(lapMm) =>
                  joining(() => session.do(changeJoint(session.project, piece, index, { way: 'lap', lapMm })))
                }
              />
            )}
          </li>
        ))}
      </ul>
      <p class="row">
        <button type="button" onClick={apart}>
          {t.parts.takeApart}
        </button>
        <span class="field-help">{t.parts.takeApartHelp}</span>
      </p>
    </>
  );
}

function OpenJoints({ piece, onBringIn }: PartsPartProps) {
  const session = useSession();
  const project = useProject();
  const joining = useJoining();
  return (
    <ul class="plain-list open-joints" aria-label={t.parts.openTitle}>
      {jointStates(project, piece).map((state) => {
        const { joint, index, partners } = state;
        const [partner] = partners;
        const single = partners.length === 1 ? partner : undefined;
        const join = (): void =>
          joining(() => {
            if (!single) return;
            const at: JointAt = { way: 'butt', lapMm: 0, first: joint, second: single.joint };
            session.do(joinParts(session.project, piece, single.piece, at, joint.letter));
            session.announce(t.parts.joined(piece.name, single.piece.name));
          });
        return (
          <li key={`${joint.letter} ${joint.edge}`}>
            <p>
              <Icon name="lacking" /> {stateInWords(piece, state, project.units, language)}{' '}
              <span class="faint">({sideName(piece, joint, project.units)})</span>
            </p>
            {!single && <p class="field-help">{partner ? t.parts.severalHelp : t.parts.missingHelp}</p>}
            <div class="row">
              {single && (
                <button type="button" class="primary" onClick={join}>
                  {t.parts.joinWith(single.piece.name)}
                </button>
              )}
              {!partner && (
                <button type="button" onClick={onBringIn}>
                  {t.pieces.ways.drawing}
                </button>
              )}
              <button type="button" class="quiet" onClick={() => session.do(forgetJoint(piece, index))}>
                {t.parts.forget(joint.letter)}
              </button>
            </div>
          </li>
        );
      })}
    </ul>
  );
}

interface JoinOtherProps {
  readonly piece: Piece;
  readonly others: readonly Piece[];
}

/** Any piece with any other, at edges the maker chooses, with a picture of what comes of it. */
function JoinOther({ piece, others }: JoinOtherProps) {
  const session = useSession();
  const project = useProject();
  const joining = useJoining();
  const [isOpen, setOpen] = useState(false);
  const [chosen, setChosen] = useState<JoinValue | null>(null);
  const isThere = chosen !== null && others.some(({ id }) => id === chosen.secondId);
  const value = isThere ? chosen : usualJoin(piece, others[0] as Piece);
  const second = others.find(({ id }) => id === value.secondId) as Piece;
  const change = (next: JoinValue): void => {
    const other = others.find(({ id }) => id === next.secondId);
    setChosen(other && next.secondId !== value.secondId ? usualJoin(piece, other) : next);
  };
  const trial = isOpen ? tryJoin(piece, second, value, project.units) : null;
  return (
    <details class="help" onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>{t.parts.joinOther}</summary>
      {isOpen && (
        <div>
          <JoinFields value={value} firsts={[piece]} seconds={others} onChange={change} />
          {trial && 'fault' in trial && (
            <p class="field-fault" role="alert">
              {trial.fault}
            </p>
          )}
          {trial && 'joined' in trial && (
            <>
              <JointPreview piece={trial.joined} label={t.parts.preview(piece.name, second.name)} />
              {trial.turnedDeg > 0 && <p class="field-help">{t.parts.grainDiffers(trial.turnedDeg)}</p>}
              <button
                type="button"
                class="primary"
                onClick={() =>
                  joining(() => {
                    session.do(joinParts(session.project, piece, second, trial.at, ''));
                    session.announce(t.parts.joined(piece.name, second.name));
                    setChosen(null);
                  })
                }
              >
                {t.parts.join}
              </button>
            </>
          )}
        </div>
      )}
    </details>
  );
}

type Trial =
  | { readonly fault: string }
  | { readonly joined: Piece; readonly at: JointAt; readonly turnedDeg: number };

function tryJoin(first: Piece, second: Piece, value: JoinValue, units: 'cm' | 'mm' | 'in'): Trial | null {
  const [here, there] = [joinableSides(first)[value.firstSide], joinableSides(second)[value.secondSide]];
  if (!here || !there) return null;
  const at: JointAt = { way: value.way, lapMm: value.lapMm, first: here, second: there };
  try {
    return { joined: putTogether(first, second, at, '', units), at, turnedDeg: grainOff(first, second, at) };
  } catch (error) {
    if (error instanceof JointFault) return { fault: error.inLanguage(language) };
    throw error;
  }
}

/** By how many degrees the grain lines of two pieces differ once their edges lie against each other. */
function grainOff(first: Piece, second: Piece, at: JointAt): number {
  const direction = ({ outline }: Piece, { edge, edges }: { edge: number; edges: number }): number => {
    const [ax, ay] = outline[edge] ?? [0, 0];
    const [bx, by] = outline[(edge + edges) % outline.length] ?? [0, 0];
    return (Math.atan2(by - ay, bx - ax) * 180) / Math.PI;
  };
  const turned = direction(first, at.first) + 180 - direction(second, at.second);
  const off = (((second.grainDeg + turned - first.grainDeg) % 180) + 180) % 180;
  const least = Math.min(off, 180 - off);
  return least < 1 ? 0 : Math.round(least);
}
