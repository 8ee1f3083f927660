import { pieceIn } from '../../../pattern/cutList/index.ts';
import type { Material, Project, Sizing } from '../../../pattern/exchange/project.ts';
import { Choice, Select, Tick } from '../../fields/Choice.tsx';
import { LengthField } from '../../fields/NumberFields.tsx';
import { NameField } from '../../fields/TextField.tsx';
import {
  moveAll,
  removeMaterial,
  renameMaterial,
  setCompanion,
  setRole,
  setSizing,
} from '../../state/cutListCommands.ts';
import { pieceFacts } from '../../state/pieceFacts.ts';
import { t } from '../../strings/index.ts';
import { formatSize } from '../../strings/lengths.ts';
import { useSession } from '../shared/hooks.ts';
import { Icon } from '../shared/Icon.tsx';

const ROLES = ['main', 'contrast', 'lining', 'interfacing', 'foam', 'other'] as const;
const AS_DRAWN: Sizing = { allowance: 'full', inSeamMm: 0, largerMm: 0, roughMm: 0 };
/** What stays in the seam, and by how much a lining is smaller, to begin with: 3 mm, or 1/8 in. */
const USUAL_MM = { cm: 3, mm: 3, in: 3.175 } as const;

interface MaterialPanelProps {
  readonly project: Project;
  readonly material: Material;
  readonly onClose: () => void;
}

/** Everything about one material: its name, the layers that follow it, how pieces are cut from it. */
export function MaterialPanel({ project, material, onClose }: MaterialPanelProps) {
  const session = useSession();
  const others = project.materials.filter(({ id }) => id !== material.id);
  const remove = (): void => {
    session.do(removeMaterial(material));
    session.announce(t.pieces.removed(material.name));
  };
  return (
    <section class="panel material-panel" aria-label={t.cutList.settingsOf(material.name)}>
      <header class="panel-head">
        <NameField
          label={t.cutList.nameOf(material.name)}
          value={material.name}
          onChange={(name) => session.do(renameMaterial(material, name))}
        />
        <Select
          label={t.cutList.roleOf(material.name)}
          value={material.role}
          options={ROLES.map((role) => ({ value: role, label: t.cutList.roles[role] }))}
          onChange={(role) => session.do(setRole(material, role))}
        />
        <button type="button" class="quiet" aria-label={t.common.close} onClick={onClose}>
          <Icon name="close" />
        </button>
      </header>
      <div class="material-parts">
        <fieldset class="part">
          <legend>{t.cutList.layers}</legend>
          {others.length === 0 ? (
            <p>{t.cutList.noOthers}</p>
          ) : (
            others.map((other) => (
              <Tick
                key={other.id}
                label={t.cutList.alsoFrom(other.name)}
                on={material.companions?.includes(other.id) ?? false}
                onChange={(isOn) => session.do(setCompanion(material, other.id, isOn))}
              />
            ))
          )}
          <p class="field-help">{t.cutList.layersHelp}</p>
        </fieldset>
        <SizingPart project={project} material={material} />
      </div>
      <div class="row">
        {others.length > 0 && (
          <Select
            label={t.cutList.moveAllOf(material.name)}
            hideLabel
            value=""
            options={[
              { value: '', label: `${t.cutList.moveAll} …` },
              ...others.map(({ id, name }) => ({ value: id, label: name })),
            ]}
            onChange={(id) => {
              if (id !== '') session.do(moveAll(material, id));
            }}
          />
        )}
        <button type="button" class="quiet danger" onClick={remove}>
          {t.cutList.removeMaterial(material.name)}
        </button>
      </div>
    </section>
  );
}

function SizingPart({ project, material }: { readonly project: Project; readonly material: Material }) {
  const session = useSession();
  const sizing = material.sizing ?? AS_DRAWN;
  const change = (patch: Partial<Sizing>): void => session.do(setSizing(material, { ...sizing, ...patch }));
  const way = sizing.largerMm === 0 ? 'none' : sizing.largerMm > 0 ? 'larger' : 'smaller';
  const usual = USUAL_MM[project.units];
  const sign = way === 'smaller' ? -1 : 1;
  return (
    <fieldset class="part" data-spot={`sizing-${material.id}`}>
      <legend>{t.cutList.sizing}</legend>
      <Choice
        label={t.cutList.allowance}
        value={sizing.allowance}
        options={(['full', 'none', 'partly'] as const).map((value) => ({
          value,
          label: t.cutList.allowances[value],
        }))}
        onChange={(allowance) =>
          change({ allowance, inSeamMm: allowance === 'partly' ? sizing.inSeamMm || usual : 0 })
        }
      />
      {sizing.allowance === 'partly' && (
        <LengthField
          label={t.cutList.inSeam}
          mm={sizing.inSeamMm}
          onChange={(inSeamMm) => change({ inSeamMm })}
        />
      )}
      <Choice
        label={t.cutList.larger}
        value={way}
        help={t.cutList.largerHelp}
        options={(['none', 'larger', 'smaller'] as const).map((value) => ({
          value,
          label: t.cutList.largerWays[value],
        }))}
        onChange={(to) => {
          const by = Math.abs(sizing.largerMm) || usual;
          change({ largerMm: to === 'none' ? 0 : to === 'larger' ? by : -by });
        }}
      />
      {way !== 'none' && (
        <LengthField
          label={t.cutList.largerBy}
          mm={Math.abs(sizing.largerMm)}
          onChange={(mm) => change({ largerMm: sign * mm })}
        />
      )}
      <LengthField
        label={t.cutList.rough}
        mm={sizing.roughMm}
        allowZero
        onChange={(roughMm) => change({ roughMm })}
      />
      <p class="field-help">{t.cutList.roughHelp}</p>
      <Example project={project} material={material} />
    </fieldset>
  );
}

/** The first piece cut from the material, at the size it is cut there. */
function Example({ project, material }: { readonly project: Project; readonly material: Material }) {
  if (!material.sizing) return null;
  const row = project.cutList.find((entry) => entry.materialId === material.id);
  const piece = project.pieces.find(({ id }) => id === row?.pieceId);
  if (!piece || pieceFacts(piece).isFaulty) return null;
  const sized = pieceIn(piece, material);
  const size = sized.ok ? pieceFacts(sized.piece).wholeSize : null;
  if (!size) return null;
  return (
    <p class="field-help" role="status">
      {t.cutList.cutAs(piece.name, formatSize(size.widthMm, size.heightMm, project.units))}
    </p>
  );
}
