import { type Cloth, type Repeat, repeatSchema } from '../../../pattern/exchange/project.ts';
import { Choice, Select, Tick } from '../../fields/Choice.tsx';
import { AngleField, LengthField } from '../../fields/NumberFields.tsx';
import { changeCloth } from '../../state/clothCommands.ts';
import { t } from '../../strings/index.ts';
import { useSession } from '../shared/hooks.ts';
import { RepeatPicture } from '../take/RepeatPicture.tsx';
import { RepeatDrawing } from './HelpDrawings.tsx';
import { MatchesPart } from './MatchesPart.tsx';

const LOOKS = ['print', 'even', 'uneven'] as const;
const KINDS = ['straight', 'halfDrop', 'brick'] as const;
/** More than this is no print along the cloth any more. */
const MOST_SKEW_DEG = 15;
/** A repeat begins with this, mm: the maker measures her own. */
const NEW_REPEAT: Repeat = repeatSchema.parse({ alongMm: 200, acrossMm: 200 });

/** What recurs on the cloth, measured once; how pieces keep to it is said with the pieces. */
export function RepeatPart({ cloth }: { readonly cloth: Cloth }) {
  const session = useSession();
  const { repeat } = cloth;
  const set = (patch: Partial<Repeat>): void =>
    session.do(changeCloth(cloth, { repeat: { ...(repeat ?? NEW_REPEAT), ...patch } }));
  return (
    <fieldset data-spot="repeat" class="part">
      <legend>{t.cloth.repeat}</legend>
      <Tick
        label={t.cloth.hasRepeat}
        help={t.cloth.repeatHelp}
        on={repeat !== null}
        onChange={(on) => session.do(changeCloth(cloth, { repeat: on ? NEW_REPEAT : null }))}
      />
      {repeat && (
        <>
          <div class="with-drawing">
            <Choice
              label={t.cloth.look}
              value={repeat.look}
              options={LOOKS.map((value) => ({
                value,
                label: t.cloth.looks[value],
                help: t.cloth.lookHelp[value],
              }))}
              onChange={(look) => set({ look })}
            />
            <RepeatDrawing kind={repeat.kind} stripes={repeat.look !== 'print'} />
          </div>
          <div class="fields">
            <LengthField
              label={t.cloth.repeatAlong}
              help={t.cloth.repeatAlongHelp}
              allowZero
              mm={repeat.alongMm}
              onChange={(alongMm) => set({ alongMm })}
            />
            <LengthField
              label={t.cloth.repeatAcross}
              help={t.cloth.repeatAcrossHelp}
              allowZero
              mm={repeat.acrossMm}
              onChange={(acrossMm) => set({ acrossMm })}
            />
            <LengthField
              label={t.cloth.fromEnd}
              help={t.cloth.fromEndHelp}
              allowZero
              mm={repeat.fromEndMm}
              onChange={(fromEndMm) => set({ fromEndMm })}
            />
            <LengthField
              label={t.cloth.fromSelvedge}
              help={t.cloth.fromSelvedgeHelp}
              allowZero
              mm={repeat.fromSelvedgeMm}
              onChange={(fromSelvedgeMm) => set({ fromSelvedgeMm })}
            />
          </div>
          <Select
            label={t.cloth.repeatKind}
            help={t.cloth.repeatKindHelp}
            value={repeat.kind}
            options={KINDS.map((value) => ({ value, label: t.cloth.repeatKinds[value] }))}
            onChange={(kind) => set({ kind })}
          />
          <div class="fields">
            <AngleField
              label={t.cloth.skew}
              help={t.cloth.skewHelp}
              degrees={repeat.skewDeg}
              onChange={(skewDeg) =>
                set({ skewDeg: Math.max(-MOST_SKEW_DEG, Math.min(MOST_SKEW_DEG, skewDeg)) })
              }
            />
            {repeat.skewDeg !== 0 && (
              <Select
                label={t.cloth.follow}
                help={t.cloth.followHelp[repeat.follow]}
                value={repeat.follow}
                options={(['print', 'grain'] as const).map((value) => ({
                  value,
                  label: t.cloth.follows[value],
                }))}
                onChange={(follow) => set({ follow })}
              />
            )}
          </div>
          {repeat.look === 'print' && <RepeatPicture cloth={cloth} />}
          <MatchesPart cloth={cloth} />
        </>
      )}
    </fieldset>
  );
}
