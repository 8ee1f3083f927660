import { useState } from 'preact/hooks';
import { boundingBox } from '../../../nesting/geometry/rings.ts';
import { PRESETS, type PresetId, presetOf } from '../../../pattern/cloths/presets.ts';
import type { Cloth, Material, Project } from '../../../pattern/exchange/project.ts';
import { Select } from '../../fields/Choice.tsx';
import { addRemnant, addRoll, addSheets, presetFor } from '../../state/clothCommands.ts';
import { addMaterial } from '../../state/cutListCommands.ts';
import { lacksOf } from '../../state/lacks.ts';
import { t } from '../../strings/index.ts';
import { formatLength, formatSize } from '../../strings/lengths.ts';
import { EmptyState } from '../shared/EmptyState.tsx';
import { useAddress, useBench, useGo, useProject, useSession, useStore } from '../shared/hooks.ts';
import { Icon } from '../shared/Icon.tsx';
import { Lacks } from '../shared/Lacks.tsx';
import { lazyView } from '../shared/lazyView.tsx';
import { ClothCard } from './ClothCard.tsx';
import { PresetSource } from './PresetSource.tsx';

const ShelfDialog = lazyView(async () => (await import('../shelf/ShelfDialog.tsx')).ShelfDialog);

/** A new remnant starts as a piece of this size, in mm, and is then measured. */
const NEW_REMNANT = { alongMm: 500, acrossMm: 400 } as const;

export function ClothsStep() {
  const session = useSession();
  const project = useProject();
  const { open } = useStore(useBench().route);
  const cloth = project.cloths.find((entry) => entry.id === open);
  const [isShelfOpen, setShelfOpen] = useState(false);
  return (
    <div class="step-body">
      <header class="step-head">
        <h2>{t.cloths.title}</h2>
        <p class="lead">{t.cloths.lead}</p>
        <button type="button" class="quiet" onClick={() => setShelfOpen(true)}>
          <Icon name="shelf" />
          {t.shelf.open}
        </button>
      </header>
      {isShelfOpen && <ShelfDialog project={project} material={null} onClose={() => setShelfOpen(false)} />}
      <Lacks lacks={lacksOf(project).cloths} />
      {project.materials.length === 0 && (
        <EmptyState step="cloths" spot="cloths-">
          <span>{t.cloths.noMaterials}</span>
          <button type="button" onClick={() => session.do(addMaterial(t.cloths.firstMaterial))}>
            <Icon name="plus" />
            {t.cloths.addFirst}
          </button>
        </EmptyState>
      )}
      {project.materials.length > 0 && (
        <div class={cloth ? 'split has-open' : 'split'}>
          <div class="split-list">
            {project.materials.map((material) => (
              <MaterialCloths
                key={material.id}
                project={project}
                material={material}
                openId={cloth?.id ?? null}
              />
            ))}
          </div>
          <div class="split-detail">
            {cloth ? (
              <ClothCard key={cloth.id} cloth={cloth} />
            ) : (
              <p class="faint hint">{t.cloths.nothingOpen}</p>
            )}
          </div>
        </div>
      )}
    </div>
  );
}

interface MaterialClothsProps {
  readonly project: Project;
  readonly material: Material;
  readonly openId: string | null;
}

function MaterialCloths({ project, material, openId }: MaterialClothsProps) {
  const session = useSession();
  const go = useGo();
  const address = useAddress();
  const [kind, setKind] = useState<PresetId>(presetFor(material));
  const cloths = project.cloths.filter((cloth) => cloth.materialId === material.id);
  // A material without a cloth asks for one by itself.
  const [isAdding, setAdding] = useState(cloths.length === 0);
  const [isTaking, setTaking] = useState(false);
  const free = (name: string): string => {
    const names = new Set(project.cloths.map((cloth) => cloth.name));
    let candidate = name;
    for (let number = 2; names.has(candidate); number++) candidate = `${name} ${number}`;
    return candidate.slice(0, 200);
  };
  const add = (command: ReturnType<typeof addRoll>): void => {
    session.do(command);
    setAdding(false);
    go('cloths', command.id);
  };
  return (
    <section
      class="material-cloths"
      aria-label={t.cloths.forMaterial(material.name)}
      data-spot={`cloths-${material.id}`}
    >
      <h3>
        {material.name} <span class="faint">{t.cutList.roles[material.role]}</span>
      </h3>
      {cloths.length === 0 && <p class="faint">{t.cloths.none}</p>}
      <ul class="cards">
        {cloths.map((cloth) => (
          <li key={cloth.id}>
            <a
              class="card"
              href={address('cloths', cloth.id)}
              aria-current={cloth.id === openId ? 'true' : undefined}
            >
              <ClothThumb cloth={cloth} />
              <span class="card-text">
                <span class="card-name">{cloth.name}</span>
                <span class="card-fact">{clothInWords(cloth, project.units)}</span>
              </span>
            </a>
          </li>
        ))}
      </ul>
      <div class="buttons">
        {!isAdding && (
          <button
            type="button"
            class="quiet"
            aria-label={t.cloths.addTo(material.name)}
            onClick={() => setAdding(true)}
          >
            <Icon name="plus" />
            {t.cloths.add}
          </button>
        )}
        <button
          type="button"
          class="quiet"
          aria-label={t.shelf.fromFor(material.name)}
          onClick={() => setTaking(true)}
        >
          <Icon name="shelf" />
          {t.shelf.from}
        </button>
      </div>
      {isTaking && <ShelfDialog project={project} material={material} onClose={() => setTaking(false)} />}
      {isAdding && (
        <div class="panel">
          <Select
            label={t.cloths.kindLegend}
            value={kind}
            help={t.cloths.kindHelp}
            options={PRESETS.map(({ id }) => ({ value: id, label: t.cloths.presets[id] }))}
            onChange={setKind}
          />
          <PresetSource preset={presetOf(kind)} />
          <div class="row">
            {presetOf(kind)?.sheet && (
              <button
                type="button"
                class="primary"
                onClick={() => add(addSheets(material.id, free(t.cloths.presets[kind]), kind))}
              >
                {t.cloths.addSheets}
              </button>
            )}
            {!presetOf(kind)?.sheet && (
              <button
                type="button"
                class="primary"
                onClick={() => add(addRoll(material.id, free(t.cloths.rollName(material.name)), kind))}
              >
                {t.cloths.addRoll}
              </button>
            )}
            <button
              type="button"
              class="primary"
              onClick={() =>
                add(
                  addRemnant(
                    material.id,
                    free(t.cloths.remnantName(material.name)),
                    kind,
                    NEW_REMNANT.alongMm,
                    NEW_REMNANT.acrossMm,
                  ),
                )
              }
            >
              {t.cloths.addRemnant}
            </button>
            <button type="button" class="quiet" onClick={() => setAdding(false)}>
              {t.common.cancel}
            </button>
          </div>
        </div>
      )}
    </section>
  );
}

/** "Roll, 140 cm wide, nap one way". */
export function clothInWords(cloth: Cloth, units: Project['units']): string {
  const parts: string[] = [];
  if (cloth.kind === 'roll') {
    parts.push(t.cloths.roll, t.cloths.wide(formatLength(cloth.widthMm, units)));
    if (cloth.availableMm !== null) parts.push(t.cloths.only(formatLength(cloth.availableMm, units)));
  } else {
    const box = boundingBox(cloth.outline);
    parts.push(t.cloths.remnant, formatSize(box.maxX - box.minX, box.maxY - box.minY, units));
    if (cloth.flaws.length > 0) parts.push(t.cloths.flawCount(cloth.flaws.length));
  }
  if (cloth.kind === 'remnant' && cloth.quantity > 1) parts.push(t.cloths.times(cloth.quantity));
  if (cloth.nap !== 'none') parts.push(t.cloths.napFacts[cloth.nap]);
  if (cloth.printUp !== 'none') parts.push(t.cloths.printFact);
  if (cloth.repeat !== null) parts.push(t.cloths.repeatFact);
  return parts.join(', ');
}

/** A cloth as a small drawing: its outline and flaws, or a roll. */
export function ClothThumb({ cloth }: { readonly cloth: Cloth }) {
  if (cloth.kind === 'roll') {
    return (
      <svg class="thumb" viewBox="-25 -25 50 50" aria-hidden="true" focusable="false">
        <path class="thumb-cloth" d="M-14 -16H20V16H-14Z" />
        <path class="thumb-selvedge" d="M-14 -16H20M-14 16H20" />
        <path class="thumb-roll" d="M-20 -16a6 3 0 0 1 12 0V16a6 3 0 0 1 -12 0Z" />
      </svg>
    );
  }
  const box = boundingBox(cloth.outline);
  const size = Math.max(box.maxX - box.minX, box.maxY - box.minY, 1e-6);
  const path = (ring: Project['pieces'][number]['outline']): string =>
    `M${ring
      .map(
        ([x, y]) =>
          `${(((x - (box.minX + box.maxX) / 2) / size) * 44).toFixed(2)} ${((((box.minY + box.maxY) / 2 - y) / size) * 44).toFixed(2)}`,
      )
      .join('L')}Z`;
  return (
    <svg class="thumb" viewBox="-25 -25 50 50" aria-hidden="true" focusable="false">
      <path class="thumb-cloth" d={path(cloth.outline)} />
      {cloth.flaws.map((flaw, index) => (
        <path key={String(index)} class="thumb-flaw" d={path(flaw)} />
      ))}
    </svg>
  );
}
