import type { Cloth, Spread } from '../../exchange/project.ts';
import type { Hand, HandWords, PlanWords } from './en.ts';

/** Every German word that a drawing says. */

type Doubled = Exclude<Spread, 'single' | 'sequence'>;

const HANDS: Readonly<Record<Hand, HandWords>> = {
  plain: { long: 'normal', short: 'normal', meaning: 'normal: wie gezeichnet' },
  mirrored: { long: 'gespiegelt', short: 'gespiegelt', meaning: 'gespiegelt' },
  pair: {
    long: 'Paar: gibt 1 normal + 1 gespiegelt',
    short: 'Paar',
    meaning: 'Paar, gegengleich: gibt 1 normal + 1 gespiegelt',
  },
  fold: { long: 'im Stoffbruch', short: 'im Bruch', meaning: 'im Stoffbruch: klappt zum ganzen Teil auf' },
  either: {
    long: 'ohne links und rechts',
    short: 'spiegelgleich',
    meaning: 'spiegelgleich, ohne links und rechts: sein eigenes Spiegelbild',
  },
};

const EITHER_OF_REVERSIBLE: HandWords = {
  long: 'gleich welche Seite',
  short: 'gleich',
  meaning: 'gleich welche Seite: Der Stoff hat zwei rechte Seiten',
};

const LIES: Readonly<Record<Doubled, string>> = {
  folded: 'längs gefaltet',
  crosswise: 'quer gefaltet',
  turned: 'am Querbruch geschnitten, obere Lage gedreht',
  middle: 'beide Webkanten zur Mitte',
  partial: 'zum Teil gefaltet',
};

const TOGETHER = 'rechts auf rechts, linke Seite oben';
const DOUBLED_FACE: Readonly<Record<Doubled, string>> = {
  folded: TOGETHER,
  crosswise: TOGETHER,
  turned: TOGETHER,
  middle: TOGETHER,
  partial: 'rechts auf rechts; der einlagige Teil liegt mit der rechten Seite oben',
};

const SINGLE = 'einlagig';
const DOUBLED = 'doppelt: Jedes Auflegen gibt zwei';
const TWO = 'Jedes Auflegen gibt zwei: eines normal, eines gespiegelt.';

const HOW_TO_SPREAD: Readonly<Record<Doubled, string>> = {
  folded: `Den Stoff längs falten, rechts auf rechts. ${TWO}`,
  crosswise: `Den Stoff quer falten, Anschnitt auf Anschnitt, rechts auf rechts. ${TWO}`,
  turned: `Den Stoff quer falten, rechts auf rechts, am Bruch auseinanderschneiden und die obere Lage um 180° drehen, damit Strich und Muster in beiden gleich laufen. ${TWO}`,
  middle: `Beide Webkanten zur Mitte falten, rechts auf rechts. Kein Teil liegt über der Mitte, wo die obere Lage offen ist. ${TWO}`,
  partial: `Eine Webkante nur so weit umschlagen, wie gezeichnet, rechts auf rechts; der Rest liegt einlagig. Wo der Stoff doppelt liegt, gibt jedes Auflegen zwei: eines normal, eines gespiegelt.`,
};

const faceWords = (cloth: Cloth | undefined): string =>
  cloth?.cutFromBack ? 'LINKE Seite oben' : 'rechte Seite oben';

export const planDe: PlanWords = {
  cutEnd: 'Anschnitt',
  openOut: 'ab hier den Stoff aufschlagen',
  selvedge: 'Webkante',
  selvedges: 'beide Webkanten',
  fold: 'STOFFBRUCH – diese Kante nicht schneiden',
  foldShort: 'BRUCH',
  held: 'zurückgehalten',
  sets: (numbers) => `Satz ${numbers.join(' und ')}`,
  length: (name, n, of) => `${name}, Länge ${n} von ${of}`,
  guest: (material) => `statt ${material}`,
  heldMeaning: 'zurückgehalten: Platz frei lassen, später nach Maß schneiden',
  continues: 'geht in der nächsten Reihe weiter',
  continued: 'Fortsetzung der Reihe darüber',
  top: 'oben',
  nap: 'Strich: Alle Oberkanten zeigen hierhin',
  print: 'Muster: hier ist oben',
  leftOver: 'Rest',
  flaw: 'Fehlstelle',
  cut: 'abschneiden',
  scale: 'Maßstab',
  sewLine: 'Nahtlinie',
  opened: 'Maß aufgeklappt',
  openedSize: (size) => `${size} aufgeklappt`,
  doubled: DOUBLED,
  sheet: 'Zuschnitt',
  part: (number, words) => `Abschnitt ${number}: ${words}`,
  twoLayers: 'auseinandergefaltet',
  upperEdge: 'Kante der oberen Lage: unten doppelt, oben einlagig',
  middleOpen: 'obere Lage hier offen',
  cutApart: 'hier den Stoff auseinanderschneiden',
  foldedEnd: 'STOFFBRUCH, quer',
  turnedEnd: 'Bruch aufschneiden, obere Lage drehen',
  copy: (copy, of) => `${copy} von ${of}`,
  halfPiece: (title) => `${title}. Halbes Teil: Die markierte Kante liegt am Stoffbruch.`,
  layPlan: (name) => `${name}: Zuschnittplan`,
  layPlans: 'Pläne zum Zuschneiden',
  atScale: (scale) => `Maßstab 1:${scale}.`,
  noMark: (count) =>
    `${count} kleine Teile tragen in diesem Maßstab kein Zeichen: eine größere Seite wählen.`,
  verdicts: { 'cannot fit': 'Passt nicht.', 'not found': 'Noch nicht alles hat einen Platz gefunden.' },
  missing: (pieces) => `Nicht auf diesem Stoff – ${pieces}`,
  facts: {
    width: 'Breite',
    cutOff: 'Vom Ballen schneiden',
    buy: 'Kaufen',
    leftOver: 'Rest',
    sheets: 'Zuschnitte',
    remnant: 'Stoffrest',
    use: 'Ausnutzung',
    trace: 'Anzuzeichnen',
    gap: 'Abstand',
  },
  table: { piece: 'Teil', hand: 'Lage', size: 'Breite × Höhe', cut: 'Plan / Liste' },
  moreRows: (count) => `… und ${count} weitere Zeilen: kein Platz auf diesem Blatt`,
  signs: {
    grain: 'Fadenlauf',
    top: 'oben',
    tag: 'A2: zweites Stück von A',
    flaw: 'Fehlstelle: bleibt frei',
  },
  hand: (hand, cloth) => (hand === 'either' && cloth?.reversible ? EITHER_OF_REVERSIBLE : HANDS[hand]),
  spread: (lay, cloth) => {
    const kinds = new Set(lay.segments.map((s) => s.spread));
    if (kinds.size === 0) kinds.add(lay.spread);
    const face = faceWords(cloth);
    if (cloth?.kind === 'remnant') return `Stoffrest, einlagig, ${face}`;
    const first = [...kinds].find((kind) => kind !== 'single');
    if (first === undefined) return `einlagig, ${face}`;
    const doubled = first === 'sequence' ? 'folded' : first;
    return kinds.has('single')
      ? `zuerst ${LIES[doubled]}, dann aufgeschlagen`
      : `${LIES[doubled]}, ${DOUBLED_FACE[doubled]}`;
  },
  face: faceWords,
  captions: (spread, seenFromBack) => {
    if (spread === 'single') {
      const face = seenFromBack ? 'LINKE Seite oben, gespiegelt gezeichnet' : 'rechte Seite oben';
      return [`${SINGLE}, ${face}`, ...(seenFromBack ? ['einlagig, LINKE Seite oben'] : []), SINGLE];
    }
    if (spread === 'folded' || spread === 'sequence') {
      return [`gefaltet – ${DOUBLED}`, 'gefaltet – gibt je zwei', 'gefaltet'];
    }
    if (spread === 'turned') {
      return ['zwei Lagen, die obere gedreht – gibt je zwei', 'zwei Lagen – gibt je zwei', 'zwei Lagen'];
    }
    if (spread === 'partial') {
      return [`${LIES.partial}: unten doppelt, oben einlagig`, LIES.partial, 'gefaltet'];
    }
    return [`${LIES[spread]} – jedes Auflegen gibt zwei`, `${LIES[spread]} – gibt je zwei`, LIES[spread]];
  },
  spreadTitles: {
    single: SINGLE,
    folded: 'gefaltet',
    sequence: 'doppelt, wo es lohnt',
    crosswise: LIES.crosswise,
    turned: 'zwei Lagen, eine gedreht',
    middle: LIES.middle,
    partial: LIES.partial,
  },
  howToSpread: HOW_TO_SPREAD,
  stretch: (spread, from, to, part, face) => {
    const where = `Abschnitt ${part}, ${from} bis ${to}: `;
    if (spread === 'single') return `${where}einlagig, Stoff aufgeschlagen, ${face}.`;
    return `${where}${HOW_TO_SPREAD[spread === 'sequence' ? 'folded' : spread]}`;
  },
  twice: (length, part) =>
    `${part === null ? 'Das braucht' : `Abschnitt ${part} braucht`} ${length} Stoff: zwei Lagen der gezeichneten Länge. Zuerst so viel abschneiden.`,
  washed: (along, across) =>
    `Den Stoff vor dem Zuschneiden waschen: Gezeichnet ist er danach, ${along} % kürzer und ${across} % schmaler. Was abzuschneiden und zu kaufen ist, gilt ungewaschen.`,
  leftOut: 'Schraffierte Streifen längs bleiben frei: Webkanten und Ausgeblichenes.',
  borderDrawn:
    'Helle Strichlinien längs auf dem Stoff: die Bordüre und die Linie, auf der die unteren Kanten der Teile liegen.',
  repeatDrawn: {
    print: 'Kreuze auf dem Stoff: Motive des Musters, gemessen ab Anschnitt und Webkante.',
    even: 'Feine Linien auf dem Stoff: die Mitten seiner Streifen, gemessen ab Anschnitt und Webkante.',
    uneven: 'Feine Linien auf dem Stoff: die Mitten seiner Streifen, gemessen ab Anschnitt und Webkante.',
  },
  fromBack:
    'Von der Rückseite schneiden: Wo der Stoff einlagig liegt, ist er mit der LINKEN Seite oben gezeichnet, im Ganzen gespiegelt. Den Schnitt eines normalen Teils mit der Schrift nach unten auflegen, den eines gespiegelten mit der Schrift nach oben.',
  sheets: (count) =>
    `Geschnitten werden ${count} Zuschnitte dieses Stoffs, nebeneinander gezeichnet; sie hängen nicht zusammen.`,
  squared: (length) =>
    `Am Anschnitt schraffiert: ${length} zum Begradigen, in der abgeschnittenen Länge enthalten.`,
  useOfRemnant: 'Ausnutzung: Fläche der geschnittenen Teile ÷ Fläche des Rests ohne Fehlstellen.',
  useOfRoll: 'Ausnutzung: Fläche der geschnittenen Teile ÷ (ganze Breite × abgeschnittene Länge).',
  caution: {
    blade: 'Die Klinge nach jedem Schnitt schließen.',
    heat: 'Vinyl und Schaumstoff nicht erhitzen: Angaben des Herstellers und örtliche Regeln befolgen.',
    cords: 'Kordeln und Bänder an Kindersachen: Örtliche Regeln begrenzen Länge und Stelle.',
  },
  arrow: (words) => `Der Pfeil neben der Zeichnung: ${words}.`,
  counts: (counts) => {
    const parts: string[] = [];
    if (counts.plain > 0) parts.push(`${counts.plain} normal`);
    if (counts.mirrored > 0) parts.push(`${counts.mirrored} gespiegelt`);
    if (counts.onFold > 0) parts.push(`${counts.onFold} im Stoffbruch`);
    return parts.length > 0 ? parts.join(' + ') : 'keines';
  },
};
