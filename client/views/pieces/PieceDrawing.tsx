import { useLayoutEffect, useRef } from 'preact/hooks';
import type { Piece } from '../../../pattern/exchange/project.ts';
import { PieceView } from '../../render/pieceView.ts';
import { setFold, turnGrain } from '../../state/pieceCommands.ts';
import { pieceFacts } from '../../state/pieceFacts.ts';
import { t } from '../../strings/index.ts';
import { formatLength } from '../../strings/lengths.ts';
import { useProject, useSession } from '../shared/hooks.ts';

interface PieceDrawingProps {
  readonly piece: Piece;
  readonly isPickingFold: boolean;
  readonly onPicked: () => void;
}

/** The large drawing of a piece, its grain turned by hand; a variant has it from the piece it comes from. */
export function PieceDrawing({ piece, isPickingFold, onPicked }: PieceDrawingProps) {
  const session = useSession();
  const { units } = useProject();
  const host = useRef<HTMLDivElement>(null);
  const view = useRef<PieceView | null>(null);
  // The view lives longer than one drawing of this component, so it reads the newest piece from here.
  const now = useRef({ piece, onPicked });
  now.current = { piece, onPicked };

  useLayoutEffect(() => {
    if (!host.current) return;
    view.current = new PieceView(host.current, {
      onGrain: (degrees, phase) => {
        if (now.current.piece.variant) return;
        const drag = `grain ${now.current.piece.id}`;
        if (phase === 'drag') session.do(turnGrain(now.current.piece, degrees, drag));
        else if (phase === 'cancel') session.takeBack(drag);
        else session.seal();
      },
      onTurn: (byDegrees) => {
        const newest = session.project.pieces.find((entry) => entry.id === now.current.piece.id);
        if (!newest || newest.variant) return;
        const degrees = Math.round(newest.grainDeg) + byDegrees;
        session.do(turnGrain(newest, degrees, `grain keys ${newest.id}`));
      },
      onFoldEdge: (edge) => {
        session.do(setFold(now.current.piece, edge));
        now.current.onPicked();
      },
    });
    return () => view.current?.destroy();
  }, [session]);

  useLayoutEffect(() => {
    const facts = pieceFacts(piece);
    view.current?.show({
      piece,
      facts,
      isPickingFold,
      words: {
        title: t.piece.drawing(piece.name),
        grainHandle: t.piece.grainHandle(piece.name, piece.grainDeg),
        top: t.piece.top,
        fold: t.piece.foldMark,
        width: facts.size ? formatLength(facts.size.widthMm, units) : '',
        height: facts.size ? formatLength(facts.size.heightMm, units) : '',
      },
    });
  }, [piece, isPickingFold, units]);

  // What is to be clicked must be in sight.
  useLayoutEffect(() => {
    if (isPickingFold) host.current?.scrollIntoView({ block: 'center' });
  }, [isPickingFold]);

  return <div ref={host} class={piece.variant ? 'piece-drawing follows' : 'piece-drawing'} />;
}
