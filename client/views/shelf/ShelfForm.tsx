import { useState } from 'preact/hooks';
import { boundingBox } from '../../../nesting/geometry/rings.ts';
import { type Cloth, clothSchema, type Project } from '../../../pattern/exchange/project.ts';
import { ON_SHELF, type ShelfEntry, type ShelfItem } from '../../../pattern/exchange/shelf.ts';
import { COTTON_GRAMS_PER_METRE, lengthByWeight } from '../../../pattern/shelf/byWeight.ts';
import { Choice } from '../../fields/Choice.tsx';
import { CountField, LengthField, PriceField } from '../../fields/NumberFields.tsx';
import { TextField } from '../../fields/TextField.tsx';
import { freshId } from '../../state/ids.ts';
import { rectangleOutline } from '../../state/pieceCommands.ts';
import { t } from '../../strings/index.ts';
import { formatPurchase } from '../../strings/lengths.ts';
import { shelfHere } from './shelfHere.ts';

type Kind = 'remnant' | 'roll' | 'weight';

/** A picture as the shelf keeps it: its file may be so large. */
const LARGEST_PICTURE_BYTES = 300_000;

/** A new remnant begins in this size, a new length in this width, mm. */
const NEW_MM = { alongMm: 500, acrossMm: 400 } as const;
const COTTON_WIDTH_MM = 1120;

interface ShelfFormProps {
  readonly project: Project;
  /** Null: something new. */
  readonly entry: ShelfEntry | null;
  readonly onDone: () => void;
}

/** A piece of cloth for the shelf: measured, weighed, or a cloth of the project as it is. */
export function ShelfForm({ project, entry, onDone }: ShelfFormProps) {
  const first = sizesOf(entry?.cloth);
  const [kind, setKind] = useState<Kind>(
    entry?.weighed ? 'weight' : entry?.cloth.kind === 'roll' ? 'roll' : 'remnant',
  );
  const [name, setName] = useState(entry?.cloth.name ?? '');
  const [fibre, setFibre] = useState(entry?.fibre ?? '');
  const [place, setPlace] = useState(entry?.place ?? '');
  const [alongMm, setAlong] = useState<number>(first.alongMm);
  const [acrossMm, setAcross] = useState<number>(first.acrossMm);
  const [grams, setGrams] = useState(entry?.weighed?.grams ?? 500);
  const [perMetre, setPerMetre] = useState(entry?.weighed?.gramsPerMetre ?? COTTON_GRAMS_PER_METRE);
  const [valueCents, setValue] = useState(entry?.valueCents ?? null);
  const [picture, setPicture] = useState(entry?.picture ?? null);
  const [fault, setFault] = useState<string | null>(null);
  const isSized = entry === null || isRectangle(entry.cloth);
  const weighed = grams > 0 && perMetre > 0 ? { grams, gramsPerMetre: perMetre } : null;

  const put = async (item: ShelfItem): Promise<void> => {
    const done = await shelfHere.do({ kind: 'put', items: [item] }, t.shelf.added(item.cloth.name));
    if (done) onDone();
  };
  const save = (): void => {
    if (kind === 'weight' && weighed === null) {
      setFault(t.shelf.needNumber);
      return;
    }
    const lengthMm = kind === 'weight' && weighed ? lengthByWeight(grams, perMetre) : alongMm;
    const shape =
      kind === 'remnant'
        ? { kind: 'remnant', outline: rectangleOutline(alongMm, acrossMm) }
        : { kind: 'roll', widthMm: acrossMm, availableMm: lengthMm };
    const id = entry?.id ?? freshId('shelf');
    const words = { id, materialId: ON_SHELF, name: name.trim() };
    const cloth = clothSchema.safeParse({ ...entry?.cloth, ...(isSized ? shape : {}), ...words });
    if (!cloth.success) {
      setFault(cloth.error.issues[0]?.message ?? t.common.needName);
      return;
    }
    const more = { fibre, place, picture, valueCents };
    const about = {
      ...(entry?.leftFrom === undefined ? {} : { leftFrom: entry.leftFrom }),
      ...(entry?.plan === undefined ? {} : { plan: entry.plan }),
    };
    void put({
      id,
      cloth: cloth.data,
      ...more,
      ...about,
      ...(kind === 'weight' && weighed ? { weighed } : {}),
    });
  };
  const look = async (file: File | undefined): Promise<void> => {
    if (!file) return;
    const isPicture = file.type === 'image/png' || file.type === 'image/jpeg';
    if (!isPicture || file.size > LARGEST_PICTURE_BYTES) {
      setFault(t.shelf.pictureFault);
      return;
    }
    setFault(null);
    setPicture(await asDataAddress(file));
  };
  const mine =
    entry === null ? project.cloths.filter(({ shelfId }) => shelfId === undefined).filter(hasEnd) : [];
  return (
    <section class="panel shelf-form" aria-label={entry ? t.shelf.editOf(entry.cloth.name) : t.shelf.add}>
      {isSized && (
        <Choice
          label={t.shelf.kind}
          value={kind}
          options={(['remnant', 'roll', 'weight'] as const).map((value) => ({
            value,
            label: t.shelf.kinds[value],
          }))}
          onChange={(next) => {
            setKind(next);
            // A length is as wide as cloth is sold; what was typed stays.
            if (next !== 'remnant' && acrossMm === NEW_MM.acrossMm) setAcross(COTTON_WIDTH_MM);
          }}
        />
      )}
      <div class="row">
        <TextField label={t.shelf.name} value={name} onChange={setName} />
        <TextField
          label={t.shelf.fibre}
          value={fibre}
          placeholder={t.shelf.fibreExample}
          onChange={setFibre}
        />
        <TextField
          label={t.shelf.placeField}
          value={place}
          placeholder={t.shelf.placeExample}
          onChange={setPlace}
        />
        <PriceField label={t.shelf.value} cents={valueCents} onChange={setValue} />
      </div>
      {isSized && (
        <div class="row">
          {kind !== 'weight' && (
            <LengthField
              label={kind === 'remnant' ? t.shelf.along : t.shelf.length}
              mm={alongMm}
              onChange={setAlong}
            />
          )}
          <LengthField
            label={kind === 'remnant' ? t.shelf.across : t.shelf.width}
            mm={acrossMm}
            onChange={setAcross}
          />
          {kind === 'weight' && (
            <>
              <CountField label={t.shelf.grams} count={grams} most={100_000} onChange={setGrams} />
              <CountField
                label={t.shelf.gramsPerMetre}
                count={perMetre}
                most={10_000}
                onChange={setPerMetre}
              />
            </>
          )}
        </div>
      )}
      {isSized && kind === 'weight' && (
        <p class="field-help">
          {weighed && t.shelf.weightGives(formatPurchase(lengthByWeight(grams, perMetre), project.units))}{' '}
          {t.shelf.weightHelp}
        </p>
      )}
      <div class="row">
        <label class="field">
          <span>{t.shelf.picture}</span>
          <input
            type="file"
            accept="image/png,image/jpeg"
            onChange={(event) => void look(event.currentTarget.files?.[0])}
          />
          <span class="field-help">{t.shelf.pictureHelp}</span>
        </label>
        {picture !== null && (
          <>
            <img class="shelf-picture" src={picture} alt={t.shelf.pictureOf(name)} />
            <button type="button" class="quiet" onClick={() => setPicture(null)}>
              {t.shelf.pictureRemove}
            </button>
          </>
        )}
      </div>
      {fault !== null && (
        <p class="field-fault" role="alert">
          {fault}
        </p>
      )}
      <div class="buttons">
        <button type="button" class="primary" onClick={save}>
          {entry ? t.shelf.saveChange : t.shelf.save}
        </button>
        <button type="button" class="quiet" onClick={onDone}>
          {t.common.cancel}
        </button>
      </div>
      {mine.length > 0 && (
        <div>
          <p class="field-help">{t.shelf.fromProject}</p>
          <div class="buttons">
            {mine.map((cloth) => (
              <button
                key={cloth.id}
                type="button"
                aria-label={t.shelf.fromProjectOf(cloth.name)}
                onClick={() => void put(bareItem(cloth))}
              >
                {cloth.name}
              </button>
            ))}
          </div>
        </div>
      )}
    </section>
  );
}

/** A cloth of a project as it goes on the shelf. */
function bareItem(cloth: Cloth): ShelfItem {
  const id = freshId('shelf');
  return {
    id,
    cloth: { ...cloth, id, materialId: ON_SHELF },
    fibre: '',
    place: '',
    picture: null,
    valueCents: null,
  };
}

function hasEnd(cloth: Cloth): boolean {
  return cloth.kind === 'remnant' || cloth.availableMm !== null;
}

function sizesOf(cloth: Cloth | undefined): { readonly alongMm: number; readonly acrossMm: number } {
  if (cloth?.kind === 'roll') return { alongMm: cloth.availableMm ?? 1000, acrossMm: cloth.widthMm };
  if (!cloth) return NEW_MM;
  const { minX, maxX, minY, maxY } = boundingBox(cloth.outline);
  return { alongMm: maxX - minX, acrossMm: maxY - minY };
}

/** Whether two measures say all of a cloth's shape: other outlines stay as they are. */
function isRectangle(cloth: Cloth): boolean {
  if (cloth.kind === 'roll') return true;
  const { minX, maxX, minY, maxY } = boundingBox(cloth.outline);
  const onCorner = cloth.outline.every(([x, y]) => (x === minX || x === maxX) && (y === minY || y === maxY));
  return cloth.outline.length === 4 && onCorner;
}

function asDataAddress(file: File): Promise<string> {
  return new Promise((resolve, reject) => {
    const reader = new FileReader();
    reader.onload = () => resolve(String(reader.result));
    reader.onerror = () => reject(reader.error);
    reader.readAsDataURL(file);
  });
}
