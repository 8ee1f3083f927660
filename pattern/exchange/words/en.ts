/** What the schemas say themselves, by their own words: another language says them over. */
const OWN = [
  'must be a whole number',
  'must be greater than zero',
  'a name is missing',
  'an outline needs three points',
  'the picture of the repeat must be a PNG or a JPEG',
  'the picture of the repeat is too large: make it smaller than 300 kB',
  'the picture is too large: make it smaller than 300 kB',
  'the picture must be a PNG or JPEG',
  'nothing is named',
  'choose a way to spread the cloth',
  'no piece is chosen whose size may vary',
  'the smallest size must not be larger than the largest',
  'at most 20 offers are compared',
  'a tilt of more than 15° is no grain any more',
  'a scale must be at least 1 %',
];

/** English words about project files and requests that are faulty. */
export const exchangeEn = {
  tooLarge: (megabytes: number, most: number) => `The file is too large: ${megabytes} MB, at most ${most}.`,
  empty: 'The file is empty.',
  isDrawing: 'This is not a project file but a drawing or a web page. Drawings are opened under Pieces.',
  notOurs: 'This is not a clothlay project file.',
  noVersion: 'The project file does not say which version of the format it is in.',
  newer: (version: number, ours: number) =>
    `The project was saved by a newer clothlay: its format is version ${version}, and this one reads up to version ${ours}. Update clothlay to open it.`,
  tooOld: (version: number) => `Projects of version ${version} of the format can no longer be read.`,
  faulty: (faults: string) => `The project is faulty. ${faults}`,
  andMore: (count: number) => `And ${count} more.`,
  cutOffAfterLetters: (count: number) =>
    `The file is cut off after ${count} characters: its end is missing. Look for a complete copy.`,
  cutOffAfter: (name: string) =>
    `The file is cut off after “${name}”: its end is missing. Look for a complete copy.`,
  damaged: 'The file is damaged: it can’t be read as a project.',

  /** Ids that name two things, or nothing. */
  kinds: { pieces: 'pieces', materials: 'materials', cloths: 'cloths', plans: 'plans' },
  sameId: (kind: string, first: string, second: string, id: string) =>
    `Two ${kind}, “${first}” and “${second}”, have the same id “${id}”.`,
  rowPiece: (row: number, id: string) =>
    `Row ${row} of the cut list calls for the piece “${id}”, which is not in the project.`,
  rowMaterial: (row: number, id: string) =>
    `Row ${row} of the cut list calls for the material “${id}”, which is not in the project.`,
  clothMaterial: (cloth: string, id: string) =>
    `The cloth “${cloth}” is for the material “${id}”, which is not in the project.`,
  choiceMaterial: (id: string) => `A lay choice is for the material “${id}”, which is not in the project.`,
  choiceCloth: (material: string, id: string) =>
    `The lay of “${material}” names the cloth “${id}”, which is not in the project.`,

  /** What one entry of a list is called. */
  entries: {
    pieces: 'Piece',
    materials: 'Material',
    cloths: 'Cloth',
    cutList: 'Row of the cut list',
    layChoices: 'Lay choice',
    plans: 'Plan',
    results: 'Result',
    segments: 'Segment',
    placed: 'Placed piece',
    unplaced: 'Unplaced piece',
    choices: 'Lay choice',
    holes: 'hole',
    marks: 'mark',
    outline: 'point',
    points: 'point',
    flaws: 'flaw',
    clothIds: 'cloth',
  } as Readonly<Record<string, string>>,
  point: (number: number) => `point ${number}`,
  numbered: (kind: string, number: number) => `${kind} ${number}`,
  named: (kind: string, name: string) => `${kind} “${name}”`,

  /** What single fields are called. */
  fields: {
    allowanceMm: 'allowance',
    alongMm: 'size along the grain',
    acrossMm: 'size across the grain',
    availableMm: 'length there is',
    clothIds: 'cloths',
    cutList: 'cut list',
    edgeMarginMm: 'margin at the edge',
    foldEdge: 'fold edge',
    gapMm: 'gap between pieces',
    grainDeg: 'grain direction',
    layChoices: 'lay choices',
    materialId: 'material',
    nap: 'nap',
    onFold: 'number on the fold',
    pieceId: 'piece',
    plain: 'number of plain pieces',
    mirrored: 'number of mirrored pieces',
    priceCentsPerMetre: 'price',
    printUp: 'direction of the print',
    selvedgeMm: 'selvedge',
    shopStepMm: 'step the shop cuts in',
    squaringMm: 'loss at the cut end',
    topDeg: 'direction of the top',
    turn: 'freedom to turn',
    widthMm: 'width',
  } as Readonly<Record<string, string>>,
  types: {
    number: 'a number',
    string: 'a text',
    boolean: 'true or false',
    array: 'a list',
    tuple: 'a point of two numbers',
    object: 'an object',
  } as Readonly<Record<string, string>>,

  /** What is wrong: the end of a sentence after the name of the field and a colon. */
  wholeNumber: 'must be a whole number',
  missing: (wanted: string) => `is missing (${wanted} is expected)`,
  mustBe: (wanted: string) => `must be ${wanted}`,
  atLeast: (bound: string) => `must be at least ${bound}`,
  moreThan: (bound: string) => `must be more than ${bound}`,
  atMost: (bound: string) => `must be at most ${bound}`,
  lessThan: (bound: string) => `must be less than ${bound}`,
  oneOf: (values: string) => `must be one of ${values}`,
  unknownKind: 'is of no known kind',
  letters: (count: string) => `${count} characters long`,
  entriesLong: (count: string) => `${count} entries long`,
  quoted: (text: string) => `“${text}”`,
  own: Object.fromEntries(OWN.map((words) => [words, words])) as Readonly<Record<string, string>>,
};

export type ExchangeWords = typeof exchangeEn;
