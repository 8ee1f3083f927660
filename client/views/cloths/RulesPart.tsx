import type { Cloth } from '../../../pattern/exchange/project.ts';
import { Choice, Select, Tick } from '../../fields/Choice.tsx';
import { AngleField, LengthField } from '../../fields/NumberFields.tsx';
import { changeCloth } from '../../state/clothCommands.ts';
import { t } from '../../strings/index.ts';
import { useSession } from '../shared/hooks.ts';
import { NapDrawing, TurnDrawing } from './HelpDrawings.tsx';

const TURNS = ['grain', 'quarter', 'free', 'cross', 'bias', 'biasLeft', 'biasRight'] as const;
const NAPS = ['none', 'oneWay', 'twoWay', 'upAndDown'] as const;
const PRINT_UPS = ['none', 'away', 'back', 'left', 'right'] as const;
/** More is no grain any more; the project's own limit. */
const MOST_TILT_DEG = 15;

/** What the cloth asks of the pieces: grain, nap, print, sides, distances. */
export function RulesPart({ cloth }: { readonly cloth: Cloth }) {
  const session = useSession();
  const set = (patch: Parameters<typeof changeCloth>[1]): void => session.do(changeCloth(cloth, patch));
  const mayChoose = cloth.turn === 'quarter' || cloth.turn === 'free';
  return (
    <fieldset class="part">
      <legend>{t.cloth.rules}</legend>
      <div class="with-drawing" data-spot="turn">
        <Select
          label={t.cloth.turn}
          value={cloth.turn}
          help={t.cloth.turnHelp[cloth.turn]}
          options={TURNS.map((value) => ({ value, label: t.cloth.turns[value] }))}
          onChange={(turn) => set({ turn })}
        />
        <TurnDrawing turn={cloth.turn} />
      </div>
      {cloth.turn !== 'free' && (
        <div>
          <AngleField
            label={t.cloth.tilt}
            degrees={cloth.tiltDeg}
            onChange={(deg) => set({ tiltDeg: Math.min(MOST_TILT_DEG, Math.abs(deg)) })}
          />
          <p class="field-help">{t.cloth.tiltHelp}</p>
        </div>
      )}
      <div class="with-drawing" data-spot="nap">
        <Choice
          label={t.cloth.nap}
          value={cloth.nap}
          options={NAPS.map((value) => ({
            value,
            label: t.cloth.naps[value],
            help: t.cloth.napHelp[value],
          }))}
          onChange={(nap) => set({ nap })}
        />
        <NapDrawing nap={cloth.nap} />
      </div>
      <div data-spot="printUp">
        <Select
          label={t.cloth.printUp}
          help={t.cloth.printUpHelp}
          value={cloth.printUp}
          options={PRINT_UPS.map((value) => ({ value, label: t.cloth.printUps[value] }))}
          onChange={(printUp) => set({ printUp })}
        />
      </div>
      <Tick
        label={t.cloth.reversible}
        help={t.cloth.reversibleHelp}
        on={cloth.reversible}
        onChange={(reversible) => set({ reversible })}
      />
      <Tick
        label={t.cloth.cutFromBack}
        help={t.cloth.cutFromBackHelp}
        on={cloth.cutFromBack}
        onChange={(cutFromBack) => set({ cutFromBack })}
      />
      {mayChoose && (
        <Tick
          label={t.cloth.stretchAlike}
          help={t.cloth.stretchAlikeHelp}
          on={cloth.stretchAlike}
          onChange={(stretchAlike) => set({ stretchAlike })}
        />
      )}
      <div class="fields" data-spot="margins">
        <LengthField
          label={t.cloth.gap}
          help={t.cloth.gapHelp}
          allowZero
          mm={cloth.gapMm}
          onChange={(gapMm) => set({ gapMm })}
        />
        <LengthField
          label={t.cloth.edgeMargin}
          help={t.cloth.edgeMarginHelp}
          allowZero
          mm={cloth.edgeMarginMm}
          onChange={(edgeMarginMm) => set({ edgeMarginMm })}
        />
      </div>
    </fieldset>
  );
}
