import type { OutputWords } from './en.ts';

/** German words of lists and sheets that go to the table. */
export const outputDe: OutputWords = {
  toSixteenths: 'Zoll, auf 1/16 genau',
  toMillimetres: (units) => `${units}, auf 1 mm genau`,
  part: (name, number) => `${name}, Abschnitt ${number}`,
  fullSize: (name) => `${name}, volle Größe`,
  along: 'längs',
  across: 'quer',

  ticks: {
    title: 'Liste zum Abhaken',
    subject: 'Was geschnitten ist und was nicht',
    parts: 'Nach Teilen',
    held: 'Zurückgehalten: zuletzt schneiden, nach Maß',
    progress: (done, total) =>
      done === total ? `alle ${total} geschnitten` : `${done} von ${total} geschnitten`,
    size: (size, isOpened) => (isOpened ? `${size} aufgeklappt` : size),
    hands: { plain: 'normal', mirrored: 'gespiegelt', fold: 'im Bruch' },
    nothing: 'Die Zuschnittliste verlangt noch nichts.',
  },

  positions: {
    title: (name) => `${name}: Anzeichenpunkte`,
    heading: 'Maße zum Anzeichnen',
    ofRemnant:
      'Gemessen von zwei Linien im rechten Winkel, die den Rest links und unten gerade berühren, wie die Lineale des Plans.',
    fromFold: 'Längs wird ab Anschnitt gemessen, quer ab Stoffbruch, wie auf den Linealen des Plans.',
    fromSelvedge:
      'Längs wird ab Anschnitt gemessen, quer ab der Webkante unten im Plan, wie auf seinen Linealen.',
    squared: (length) =>
      `Längs beginnt am Anschnitt vor dem Begradigen. Vom begradigten Ende gemessen ist jedes Maß längs ${length} kleiner.`,
    how: 'Jedes Teil berührt seinen Platz an vier Punkten. Zwei anzeichnen, das Teil auflegen, mit einem dritten prüfen.',
    nearest: {
      cutEnd: 'Nahe Anschnitt',
      left: 'Nahe linkem Rand',
      selvedge: 'Nahe Webkante',
      fold: 'Nahe Stoffbruch',
      box: 'Nahe Unterkante',
    },
    farthest: 'Am weitesten davon',
    piece: 'Teil',
    hand: 'Lage',
  },

  table: {
    title: (material) => `${material}: Stoffbedarf`,
    all: 'Stoffbedarf',
    subject: 'Stoffbedarf nach Breite und Größe',
    nothing: 'In der Tabelle stehen noch keine Zahlen.',
    what: 'Länge vom Ballen zu kaufen, in ganzen Schritten des Ladens, mit Begradigen und Rändern, für einen Satz der Zuschnittliste.',
    quality: (seconds) =>
      `Jede Zahl ist der kürzeste in ${seconds} s gefundene Plan: So lässt es sich schneiden. Mehr Zeit findet vielleicht einen kürzeren, nie einen längeren. Was mit Strich oder auf schmalerem Stoff passt, gilt auch ohne Strich und auf breiterem.`,
    signs:
      '„kann nicht passen“: bewiesen. „nicht gefunden“: kein Plan gefunden, was kein Beweis ist. „–“: Dieser Stoff liegt nicht so, oder nichts läge doppelt.',
    size: 'Größe',
    width: 'Breite',
    naps: { none: 'ohne Strich', oneWay: 'mit Strich, alles in einer Richtung' },
    spreads: {
      single: 'einlagig',
      folded: 'gefaltet',
      sequence: 'erst doppelt',
      partial: 'zum Teil',
      middle: 'zur Mitte',
      crosswise: 'quer',
      turned: 'gedreht',
    },
    open: '…',
    verdicts: { 'cannot fit': 'kann nicht passen', 'not found': 'nicht gefunden', 'not allowed': '–' },
  },

  shopping: {
    title: 'Einkaufsliste',
    subject: 'Was zu kaufen ist',
    lead: 'Längen sind ganze Schritte des Ladens, mit Begradigen und Rändern. Übrig ist, was der Plan von der gekauften Länge lässt.',
    cloth: 'Stoff zu kaufen',
    notions: 'Kurzwaren',
    taken: 'Von dem, was da ist',
    shelf: (place) => (place === '' ? 'aus dem Regal' : `aus dem Regal, ${place}`),
    pieces: (pieces) => `${pieces} ${pieces === 1 ? 'Teil wird' : 'Teile werden'} daraus geschnitten`,
    width: (width) => `${width} breit`,
    steps: (step) => `verkauft in Schritten von ${step}`,
    spare: (size) => `übrig ${size}`,
    cost: (cost, price) => (price === null ? cost : `${cost} (${price} je Meter)`),
    states: { open: 'noch offen: Nicht alles hat einen Platz', notLaid: 'noch nicht ausgelegt' },
    total: (cost, isPartly) =>
      isPartly ? `Zusammen ${cost}, ohne das, was keinen Preis hat` : `Zusammen ${cost}`,
  },

  projector: {
    title: 'für den Beamer',
    subject: 'Mit 100 % zeigen',
    full: 'mit 100 % zeigen',
    mirrored: 'gespiegelt: Der Stoff liegt mit der linken Seite oben',
    calibration: 'Raster zum Einrichten des Beamers',
    calibrate: 'Diese Quadrate auf die Quadrate der Schneidematte bringen',
    how: 'Zoom und Trapezkorrektur einstellen, bis alle Ecken treffen, beide Diagonalen messen, dann nichts mehr ändern. Jedes Blatt mit 100 % zeigen.',
  },

  full: {
    pieces: 'Teile in voller Größe',
    lays: 'Pläne in voller Größe',
    subject: 'Mit 100 % drucken, ohne Anpassen',
    countPieces: (count) => (count === 1 ? 'ein Teil' : `${count} Teile`),
    countStretches: (count) => (count === 1 ? 'ein Stoffabschnitt' : `${count} Stoffabschnitte`),
    sheets: (count) => `${count} ${count === 1 ? 'Blatt' : 'Blätter'}`,
    onSheets: (what, sheets, paper) => `${what}: ${sheets} ${paper}`,
    gathered: (count) => `${count} Teile nebeneinander`,
    long: 'länger als 5,08 m: Zeigt das Programm es zu klein, in Abschnitten auf eine Rolle drucken',
    printAt: 'mit 100 % drucken',
    mustMeasure: 'muss so viel messen',
    sheet: (name, number) => `${name}, Blatt ${number}`,
    foot: (name, number, of, row, column, frameWidth, frameHeight, page) =>
      `${name} · Blatt ${number} von ${of} · Reihe ${row}, Spalte ${column} · Rahmen ${frameWidth} × ${frameHeight} mm · Seite ${page} der Datei`,
    cover: 'Drucken und Lagepläne',
    how: 'Mit 100 % drucken („tatsächliche Größe“, nicht anpassen) und beide Quadrate messen, bevor der Rest gedruckt wird. Jedes Blatt nennt das Maß seines Rahmens: auf jedem eines nachmessen.',
    overlap: (mm) =>
      `Die Blätter überlappen um ${mm} mm: ein Blatt am Rahmen abschneiden und über die gestrichelte Linie des nächsten legen, sodass die Hälften jeder nummerierten Raute zusammentreffen.`,
    meet: 'Ein Blatt am Rahmen abschneiden und auf den Rand des nächsten legen, sodass die Hälften jeder nummerierten Raute zusammentreffen.',
    blank: 'Blätter, auf denen nichts von einem Teil läge, fehlen.',
    again: 'Um ein Blatt noch einmal zu drucken, nur die Seite drucken, die an seinem Fuß steht.',
    leftOut: (names) => `Wegen Fehlern nicht in dieser Datei: ${names}.`,
    cut: (material, counts) => `${material}: ${counts} schneiden`,
    cutLine: (allowance) => `Schnittlinie ${allowance} außerhalb der Nahtlinie`,
    opened: (count) => `${count} aufgeklappt, aus einer Lage,`,
    onFold: 'dicke Kante am Stoffbruch',
    from: (length) => `, ab ${length}`,
    nothing: 'Noch liegt kein Teil auf dem Stoff.',
    noPieces: 'Das Projekt hat noch keine Teile.',
    roll: (mm) => `Rolle, ${mm} mm breit`,
    papers: {
      a4: 'A4',
      a3: 'A3',
      letter: 'Letter',
      tabloid: 'Tabloid',
      both: 'A4 oder Letter',
      a1: 'A1',
      a0: 'A0',
    },
    tooMany: (sheets, paper, most) =>
      `Das wären bis zu ${sheets} Blätter ${paper}; in einer Datei höchstens ${most}. Weniger oder größeres Papier wählen und den Maßstab der Teile prüfen.`,
    rollFault: (mm, least, most) => `Papier von der Rolle ist ${least} bis ${most} mm breit, nicht ${mm} mm.`,
    marginSmall: (mm, least) => `Ein Rand von ${mm} mm ist zu klein: Drucker lassen bis zu ${least} mm weiß.`,
    marginLarge: (mm, paper, most) =>
      `Ränder von ${mm} mm lassen zu wenig Platz (${paper}): höchstens ${most} mm.`,
    overlapFault: (paper, most, mm) =>
      `Blätter (${paper}) können sich um 0 bis ${most} mm überlappen, nicht um ${mm} mm.`,
  },

  labels: {
    title: 'Etiketten',
    subject: 'Ein Etikett für jedes geschnittene Teil',
    sheet: (number, of) => `Etiketten, Bogen ${number} von ${of}`,
    layers: (names) => `mit ${names.join(', ')}`,
    sewnTo: (names) => `an ${names.join(', ')}`,
    had: (width, height) => `hätte eines ${width} × ${height} mm`,
    hadNone: 'hätte keines Platz',
    fault: (columns, rows, had, leastWidth, leastHeight) =>
      `Dieser Bogen fasst kein Etikett: Mit ${columns} × ${rows} Etiketten und diesen Rändern und Abständen ${had}. Nötig sind mindestens ${leastWidth} × ${leastHeight} mm. Weniger Zeilen oder Spalten oder kleinere Ränder nehmen.`,
    nothing: 'Die Zuschnittliste verlangt nichts, was ein Etikett bräuchte.',
    tooMany: (count, most) =>
      `Die Zuschnittliste verlangt ${count} Teile; höchstens ${most} bekommen Etiketten.`,
  },

  print: {
    title: (cloth) => `${cloth}: Wie das Muster aussehen wird`,
    lead: 'Der Stoff mit der rechten Seite oben, Anschnitt links, mit jedem Teil dort, wo es geschnitten wird.',
    opened:
      'Geschnitten wird er doppelt: Hier ist er aufgeschlagen, damit die Teile beider Lagen zu sehen sind. Ein Paar zeigt von jedem eines.',
    part: (n) => `Abschnitt ${n}`,
    pieces: 'Jedes Teil, mit der Oberkante nach oben gedreht',
    scale: (scale) => `Maßstab 1:${scale}`,
    hands: { plain: '', mirrored: 'gespiegelt', fold: 'ganz', either: '' },
    stands: { up: '', unknown: '', upsideDown: 'MUSTER AUF DEM KOPF', sideways: 'MUSTER QUER' },
    short: { upsideDown: 'auf dem Kopf', sideways: 'quer' },
    wrong: (pieces) => `Das Muster steht nicht aufrecht bei: ${pieces}.`,
    allUp: 'Das Muster steht bei jedem Teil aufrecht.',
    unknown: 'Beim Stoff steht nicht, wo sein Muster oben ist: jedes Teil ansehen.',
    tooFine: 'Der Rapport ist zu klein für ein Bild des ganzen Stoffs.',
  },

  plan: { title: 'Zuschnittplan', subject: 'Pläne zum Zuschneiden' },
};
