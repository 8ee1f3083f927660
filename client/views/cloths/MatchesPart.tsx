import { useState } from 'preact/hooks';
import type { Cloth, JoinedEnd, Piece, Project } from '../../../pattern/exchange/project.ts';
import { anchorsOf } from '../../../pattern/lay/anchors.ts';
import { matchFaultInWords } from '../../../pattern/lay/inWords.ts';
import { Select } from '../../fields/Choice.tsx';
import { foldableEdges } from '../../render/pieceView.ts';
import { newMatch, setMatches } from '../../state/printCommands.ts';
import { language, t } from '../../strings/index.ts';
import { formatLength } from '../../strings/lengths.ts';
import { sideOf } from '../pieces/sideOf.ts';
import { useProject, useSession } from '../shared/hooks.ts';
import { Icon } from '../shared/Icon.tsx';

/** Edges offered for a seam: the longest of the piece. */
const MOST_EDGES = 12;

/** Seams of this cloth's material at which bars or motifs must meet. */
export function MatchesPart({ cloth }: { readonly cloth: Cloth }) {
  const session = useSession();
  const project = useProject();
  const cut = new Set(
    project.cutList.flatMap(({ materialId, pieceId, plain, mirrored, onFold }) =>
      materialId === cloth.materialId && plain + mirrored + onFold > 0 ? [pieceId] : [],
    ),
  );
  const pieces = project.pieces.filter(({ id }) => cut.has(id));
  const matches = project.matches ?? [];
  const own = matches.filter(({ a, b }) => cut.has(a.pieceId) || cut.has(b.pieceId));
  const faults = anchorsOf(project).faults.filter(({ match }) => own.includes(match));
  return (
    <div data-spot="matches" class="flaws">
      <h4>{t.cloth.matches}</h4>
      <p class="field-help">{t.cloth.matchesHelp}</p>
      <ul class="plain-list">
        {own.map((match) => (
          <li key={match.id} class="row">
            <span>{t.cloth.matchOf(endInWords(project, match.a), endInWords(project, match.b))}</span>
            <button
              type="button"
              class="quiet"
              aria-label={t.cloth.removeMatch(endInWords(project, match.a), endInWords(project, match.b))}
              onClick={() => session.do(setMatches(matches.filter(({ id }) => id !== match.id)))}
            >
              <Icon name="close" />
            </button>
          </li>
        ))}
      </ul>
      {faults.map((fault) => (
        <p key={`${fault.kind} ${fault.match.id}`} class="banner warn">
          <Icon name="lacking" />
          <span>{matchFaultInWords(fault, project, language)}</span>
        </p>
      ))}
      {pieces.length >= 2 ? (
        <NewMatch project={project} pieces={pieces} />
      ) : (
        <p class="faint">{t.cloth.matchNeedsTwo}</p>
      )}
    </div>
  );
}

function NewMatch({ project, pieces }: { readonly project: Project; readonly pieces: readonly Piece[] }) {
  const session = useSession();
  const [a, setA] = useState<JoinedEnd | null>(null);
  const [b, setB] = useState<JoinedEnd | null>(null);
  const isReady = a !== null && b !== null && a.pieceId !== b.pieceId;
  return (
    <div class="fields">
      <EndChoice label={t.cloth.matchA} project={project} pieces={pieces} end={a} onChange={setA} />
      <EndChoice label={t.cloth.matchB} project={project} pieces={pieces} end={b} onChange={setB} />
      <div>
        <button
          type="button"
          disabled={!isReady}
          onClick={() => {
            if (!a || !b) return;
            session.do(setMatches([...(project.matches ?? []), newMatch(a, b)]));
            setA(null);
            setB(null);
          }}
        >
          <Icon name="plus" />
          {t.cloth.addMatch}
        </button>
      </div>
    </div>
  );
}

interface EndChoiceProps {
  readonly label: string;
  readonly project: Project;
  readonly pieces: readonly Piece[];
  readonly end: JoinedEnd | null;
  readonly onChange: (end: JoinedEnd | null) => void;
}

/** One list of all edges and notches, piece by piece: a maker knows both by sight. */
function EndChoice({ label, project, pieces, end, onChange }: EndChoiceProps) {
  const ends = pieces.flatMap((piece): JoinedEnd[] => [
    ...foldableEdges(piece.outline, MOST_EDGES).map(({ edge }) => ({ pieceId: piece.id, edge, notch: null })),
    ...piece.marks.flatMap(({ kind }, notch) =>
      kind === 'notch' ? [{ pieceId: piece.id, edge: null, notch }] : [],
    ),
  ]);
  const keyOf = (entry: JoinedEnd): string => `${entry.pieceId} ${entry.edge ?? '-'} ${entry.notch ?? '-'}`;
  return (
    <Select
      label={label}
      value={end ? keyOf(end) : ''}
      options={[
        { value: '', label: t.cloth.matchChoose },
        ...ends.map((entry) => ({ value: keyOf(entry), label: endInWords(project, entry) })),
      ]}
      onChange={(value) => onChange(ends.find((entry) => keyOf(entry) === value) ?? null)}
    />
  );
}

function endInWords(project: Project, { pieceId, edge, notch }: JoinedEnd): string {
  const piece = project.pieces.find(({ id }) => id === pieceId);
  if (!piece) return t.cloth.matchGone;
  if (notch !== null) return t.cloth.matchNotch(piece.name, notch + 1);
  const [from, to] = [piece.outline[edge ?? 0], piece.outline[((edge ?? 0) + 1) % piece.outline.length]];
  const length = from && to ? Math.hypot(to[0] - from[0], to[1] - from[1]) : 0;
  return t.cloth.matchEdge(piece.name, sideOf(piece, edge ?? 0), formatLength(length, project.units));
}
