import { useState } from 'preact/hooks';
import { boundingBox } from '../../../nesting/geometry/rings.ts';
import type { Piece } from '../../../pattern/exchange/project.ts';
import { Choice, Tick } from '../../fields/Choice.tsx';
import { LengthField } from '../../fields/NumberFields.tsx';
import {
  setMotif,
  setOnBorder,
  setTurnsAt,
  setTurnsOver,
  splitPieceOver,
} from '../../state/printCommands.ts';
import { t } from '../../strings/index.ts';
import { useGo, useProject, useSession } from '../shared/hooks.ts';

const TURNS_AT = ['bottom', 'top'] as const;

/** How a piece keeps to what is printed or woven on its cloth. */
export function PrintPart({ piece }: { readonly piece: Piece }) {
  const session = useSession();
  const { cloths } = useProject();
  const hasRepeat = cloths.some(({ repeat }) => repeat !== null);
  const hasBorder = cloths.some(({ border }) => border !== null);
  const box = boundingBox(piece.outline);
  const { motif } = piece;
  const set = (patch: Partial<NonNullable<Piece['motif']>>): void => {
    if (motif) session.do(setMotif(piece, { ...motif, ...patch }));
  };
  return (
    <fieldset data-spot="print" class="part">
      <legend>{t.piece.print}</legend>
      <Tick
        label={t.piece.turnsOver}
        help={t.piece.turnsOverHelp}
        on={piece.turnsOver === true}
        onChange={(on) => session.do(setTurnsOver(piece, on))}
      />
      {piece.turnsOver && (
        <>
          <Choice
            label={t.piece.turnsAt}
            value={piece.turnsAt ?? 'bottom'}
            options={TURNS_AT.map((value) => ({
              value,
              label: t.piece.turnsAtPlaces[value],
              help: t.piece.turnsAtHelp[value],
            }))}
            onChange={(at) => session.do(setTurnsAt(piece, at))}
          />
          <SplitOffer piece={piece} />
        </>
      )}
      {(hasBorder || piece.onBorder) && (
        <Tick
          label={t.piece.onBorder}
          help={t.piece.onBorderHelp}
          on={piece.onBorder !== undefined}
          onChange={(on) => session.do(setOnBorder(piece, on ? { beyondMm: 0 } : undefined))}
        />
      )}
      {piece.onBorder && (
        <LengthField
          label={t.piece.beyondBorder}
          help={t.piece.beyondBorderHelp}
          allowZero
          mm={piece.onBorder.beyondMm}
          onChange={(beyondMm) => session.do(setOnBorder(piece, { beyondMm }))}
        />
      )}
      {(hasRepeat || motif) && (
        <Tick
          label={t.piece.onMotif}
          help={t.piece.onMotifHelp}
          on={motif !== undefined}
          onChange={(on) =>
            session.do(
              setMotif(
                piece,
                on
                  ? {
                      at: [(box.minX + box.maxX) / 2, (box.minY + box.maxY) / 2],
                      onMotif: [0, 0],
                      toleranceMm: 0,
                    }
                  : undefined,
              ),
            )
          }
        />
      )}
      {motif && (
        <div class="fields">
          <LengthField
            label={t.piece.motifLeft}
            allowZero
            mm={motif.at[0] - box.minX}
            onChange={(mm) => set({ at: [box.minX + mm, motif.at[1]] })}
          />
          <LengthField
            label={t.piece.motifBelow}
            allowZero
            mm={motif.at[1] - box.minY}
            onChange={(mm) => set({ at: [motif.at[0], box.minY + mm] })}
          />
          <LengthField
            label={t.piece.motifAlong}
            help={t.piece.motifOffHelp}
            allowZero
            mm={motif.onMotif[0]}
            onChange={(mm) => set({ onMotif: [mm, motif.onMotif[1]] })}
          />
          <LengthField
            label={t.piece.motifAcross}
            allowZero
            mm={motif.onMotif[1]}
            onChange={(mm) => set({ onMotif: [motif.onMotif[0], mm] })}
          />
          <LengthField
            label={t.piece.motifTolerance}
            help={t.piece.motifToleranceHelp}
            allowZero
            mm={motif.toleranceMm}
            onChange={(toleranceMm) => set({ toleranceMm })}
          />
        </div>
      )}
    </fieldset>
  );
}

/** Seam allowance at a new bottom seam unless the piece says otherwise, mm: three eighths of an inch, usual for bags. */
const USUAL_ALLOWANCE_MM = 10;

function SplitOffer({ piece }: { readonly piece: Piece }) {
  const session = useSession();
  const go = useGo();
  const [allowanceMm, setAllowance] = useState(piece.allowanceMm || USUAL_ALLOWANCE_MM);
  const command = splitPieceOver(session.project, piece, allowanceMm, {
    both: t.piece.splitBoth(piece.name),
    front: t.piece.splitFront(piece.name),
    back: t.piece.splitBack(piece.name),
  });
  return (
    <div class="row">
      {piece.line === 'cut' && (
        <LengthField
          label={t.piece.splitAllowance}
          allowZero
          mm={allowanceMm}
          onChange={(mm) => setAllowance(mm)}
        />
      )}
      <button
        type="button"
        disabled={command === null}
        onClick={() => {
          if (!command) return;
          session.do(command);
          session.announce(t.piece.splitDone(piece.name));
          go('pieces', command.id);
        }}
      >
        {t.piece.split[piece.turnsAt ?? 'bottom']}
      </button>
      <p class="field-help">{command === null ? t.piece.splitNot : t.piece.splitHelp}</p>
    </div>
  );
}
