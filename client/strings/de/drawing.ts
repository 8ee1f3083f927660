import type * as en from '../en/drawing.ts';
import { many, teile } from './words.ts';

/** Bringing in a drawing: the dialog and what it finds. */

export const drawing: typeof en.drawing = {
  title: 'Zeichnung einlesen',
  lead: 'Eine SVG-, DXF- oder PDF-Datei in wahrer Größe: Jeder geschlossene Umriss erscheint mit seinem Maß, und die Schnittteile werden daraus gewählt. Oder ein Foto eines Papierschnitts, der flach neben einem Blatt bekannter Größe liegt: Er wird nachgezeichnet.',
  choose: 'SVG-, DXF- oder PDF-Datei oder ein Foto wählen',
  drop: 'oder hierher ziehen',
  reading: 'Die Zeichnung wird gelesen …',
  readingAgain: 'Sie wird neu gelesen …',
  failed: 'Diese Datei lässt sich nicht lesen.',
  tooLarge: (megabytes) =>
    `Die Datei ist größer als ${megabytes} MB. Nur die Seiten mit dem Schnitt speichern, ohne Fotos.`,
  another: 'Andere Datei',
  page: 'Die Zeichnung',
  outlines: 'Geschlossene Umrisse',
  found: (count) => many(count, 'geschlossener Umriss', 'geschlossene Umrisse'),
  scaleKnown: 'Die Datei nennt ihre wahre Größe.',
  scaleUnknown: 'Die Datei nennt keine wahre Größe: vor dem Zuschneiden prüfen.',
  scaleBySquare: 'Das Kontrollquadrat in der Zeichnung misst, was es soll.',
  squareFound: (kind, stated, measured) =>
    `${kind === 'square' ? 'Kontrollquadrat' : 'Maßstab'} „${stated}“ gefunden: misst hier ${measured}.`,
  squareCorrect: 'Größe danach berichtigen',
  squareLeave: 'Größe so lassen',
  squareLeft: 'So gelassen: Die Teile kommen in der Größe der Datei herein.',
  squareMarked:
    'Bis zur Entscheidung sind die Teile als „nicht maßstäblich“ gekennzeichnet, hier und auf dem Plan.',
  squareWays: (across, up) =>
    `Waagerechte Längen kommen mit ${across} ihres wahren Maßes heraus, senkrechte mit ${up}.`,
  squareStretch: 'Waagerecht und senkrecht einzeln berichtigen',
  squareStretched: (across, up) =>
    `Die Teile kommen berichtigt herein: waagerecht auf ${across}, senkrecht auf ${up}. Gezeichnete Nahtzugaben ändern sich mit.`,
  printCheck: 'Einen Ausdruck prüfen',
  printHelp:
    'Das Kontrollquadrat auf jedem Blatt des Ausdrucks messen, waagerecht und senkrecht, und hier eintragen: Manchmal kommt ein einzelnes Blatt in anderer Größe heraus.',
  printStated: 'Das Quadrat soll messen',
  printCoarse: (square, ruler, share) =>
    `Bei ${square} ist ein halber Teilstrich des Lineals (${ruler}) schon ${share}: zu grob. Die längste gedruckte Strecke bekannter Länge messen und ihre Länge oben eintragen.`,
  printAcross: (sheet) => `Blatt ${sheet}: waagerecht`,
  printUp: (sheet) => `Blatt ${sheet}: senkrecht`,
  printTrue: 'Maßhaltig.',
  printOff: (across, up) =>
    across === up ? `${across} des wahren Maßes.` : `${across} des wahren Maßes waagerecht, ${up} senkrecht.`,
  printMore: 'Noch ein Blatt',
  printAllTrue: 'Der Ausdruck ist maßhaltig, soweit gemessen.',
  printOdd: (sheets) =>
    `${sheets.length === 1 ? 'Blatt' : 'Blätter'} ${sheets.join(', ')} in anderer Größe als die übrigen: noch einmal drucken.`,
  printOddTrue: (sheets) =>
    `Nur ${sheets.length === 1 ? 'Blatt' : 'die Blätter'} ${sheets.join(', ')} ${sheets.length === 1 ? 'ist' : 'sind'} maßhaltig.`,
  printFit: (from, to) =>
    `Das kommt vom Anpassen einer Seite für ${from} an ${to}: beim Drucken „tatsächliche Größe“ (100 %) wählen.`,
  printLongest: (longest, off, isShort) =>
    `Das längste Teil, ${longest}, würde ${off} zu ${isShort ? 'kurz' : 'lang'}.`,
  printAgain: (across, up) =>
    across === up
      ? `Noch einmal drucken: mit 100 %, wenn es an die Seite angepasst war, sonst mit ${across} des Maßstabs, in dem gedruckt wurde.`
      : `Kein einzelner Maßstab berichtigt das (${across} waagerecht, ${up} senkrecht): auf einem anderen Drucker oder im Copyshop drucken.`,
  printTraced: 'Was nach diesem Ausdruck nachgezeichnet ist, weicht ebenso ab.',
  printCorrect: (across, up) =>
    across === up
      ? `Nachgezeichnetes auf ${across} berichtigen`
      : `Nachgezeichnetes auf ${across} waagerecht und ${up} senkrecht berichtigen`,
  printAllowance: 'Ein anderer Maßstab ändert auch die Nahtzugabe, die im Schnitt gezeichnet ist.',
  offSize: (file, off) => `Nicht maßstäblich: Nach dem Kontrollquadrat ist ${file} ${off}.`,
  offCorrect: (count) =>
    count === 1 ? 'Nach dem Kontrollquadrat berichtigen' : `Seine ${count} Teile berichtigen`,
  offLeave: 'Größe so lassen',
  offAllowance: 'Das Berichtigen ändert auch die Nahtzugabe, die im Schnitt gezeichnet ist.',
  scaleHelp:
    'Ist von etwas Gezeichnetem die wahre Länge bekannt, es hier wählen und eintippen, was es in Wahrheit misst.',
  scaleOf: 'Von',
  scaleWhat: 'das Maß',
  measures: {
    width: 'Breite',
    height: 'Höhe',
    edge: 'längste Kante',
    outerWidth: 'Breite bis zum äußeren Rand der Linie',
    outerHeight: 'Höhe bis zum äußeren Rand der Linie',
  },
  scaleTrue: 'ist in Wahrheit',
  scaleTooFar: 'Das würde die Größe um mehr als das Tausendfache ändern.',
  scaleReset: 'Zurück zur Größe in der Datei',
  scaleFactor: (percent) => `Alles hat jetzt ${percent} der Größe in der Datei.`,
  guess: (dpi) => `Mit ${dpi} Punkten je Zoll lesen`,
  unitAsk: 'Eine Einheit in der Datei ist ein',
  units: { mm: 'Millimeter', cm: 'Zentimeter', m: 'Meter', in: 'Zoll' },
  parts: 'Ebenen und Seiten',
  layers: 'Diese Ebenen lesen',
  pages: 'Diese Seiten lesen',
  pageOf: (page, outlines) => `Seite ${page} (${many(outlines, 'Umriss', 'Umrisse')})`,
  partsHelp:
    'Oft ist jede Größe eine eigene Ebene. Was kein Häkchen hat, bleibt weg; zuerst hier wählen, dann die Umrisse.',
  readingPage: (done, of) => `Seite ${done} von ${of}`,
  sheets: 'Blätter einer Zeichnung',
  sheetsHelp:
    'Ist es eine Zeichnung, zum Drucken daheim in Blätter zerlegt? Dann lassen sich die Seiten hier ohne Kleben zusammensetzen: nach ihren Rahmen oder nach Linien, die von Seite zu Seite weitergehen.',
  sheetsFind: 'Blätter zusammensetzen',
  sheetsUnfound:
    'Es fanden sich keine Linien, die von Seite zu Seite weitergehen. Gehören die Seiten zusammen, hier eintippen, wie sie liegen und was von jeder Seite zählt.',
  sheetsTogether: (count, met, whole) => {
    const lines =
      whole > 0 && met === 0 ? '' : `; ${many(met, 'Linie geht', 'Linien gehen')} über die Ränder weiter`;
    const uncut = whole > 0 ? `; ${many(whole, 'Linie', 'Linien')} ganz von einer Seite übernommen` : '';
    return `${many(count, 'Blatt', 'Blätter')} zusammengesetzt${lines}${uncut}`;
  },
  sheetsMeet: 'Jede am Blattrand abgeschnittene Linie geht auf dem nächsten weiter.',
  sheetsLoose: (count) =>
    `${many(count, 'Linie trifft', 'Linien treffen')} am Blattrand auf dem nächsten Blatt auf nichts. Den Lageplan mit dem im Schnittmuster vergleichen.`,
  sheetsGap: (gap) => `Enden mit bis zu ${gap} Abstand wurden zusammengeführt.`,
  sheetsMap: 'Lageplan der Blätter',
  sheetsMapHelp: 'Seitennummern, je Zeile eine Reihe von Blättern, die oberste zuerst; – für eine Lücke.',
  sheetsWide: 'Genutzte Breite einer Seite',
  sheetsTall: 'Genutzte Höhe',
  sheetsLeft: 'Links davon',
  sheetsBottom: 'Darunter',
  sheetsOverlap: 'Klebestreifen',
  sheetsTooSmall: 'Was von einer Seite genutzt wird, muss größer sein als zweimal der Klebestreifen.',
  sheetsLay: 'Blätter so legen',
  sheetsApart: 'Seiten wieder trennen',
  board: 'Blätter von Hand legen',
  boardTitle: 'Blätter, die aneinanderzulegen sind',
  boardHelp:
    'Jedes Blatt an seine Nachbarn ziehen: Es rastet ein, wo geschnittene Linien weitergehen, an Marken und an Kanten (nicht mit gehaltener Alt-Taste). Mit der Tastatur: mit Tab zum Blatt, Pfeiltasten schieben um 1 mm, mit Umschalt um 10, mit Alt um 0,1; Eingabe lässt es einrasten.',
  boardSheet: (page, left, below) => `Blatt ${page}, ${left} von links, ${below} von unten`,
  boardNone: 'Ein Blatt wählen.',
  boardChosen: (page) => `Blatt ${page} ist gewählt.`,
  boardByLines: (page, met) => `Blatt ${page}: ${many(met, 'Linie geht', 'Linien gehen')} weiter.`,
  boardByMarks: (page, met) =>
    `Blatt ${page} liegt auf den Marken des Nachbarn; ${many(met, 'Linie geht', 'Linien gehen')} weiter.`,
  boardByEdges: (page, met) =>
    `Blatt ${page} liegt an einer Kante; ${many(met, 'Linie geht', 'Linien gehen')} weiter.`,
  boardFree: (page, met) => `Blatt ${page} liegt frei; ${many(met, 'Linie geht', 'Linien gehen')} weiter.`,
  boardLeft: (page) => `Blatt ${page}: von links`,
  boardBelow: 'Von unten',
  boardCatch: 'Einrasten lassen',
  boardOut: (page) => `Blatt ${page} weglassen`,
  boardBack: (page) => `Blatt ${page} wieder hinlegen`,
  boardWindow: 'Was von jeder Seite zählt',
  boardLay: 'So zusammensetzen',
  boardUndo: 'Letzte Bewegung zurücknehmen',
  photoPicture: 'Das Foto',
  photoBroken: 'Dieses Bild lässt sich nicht anzeigen. Als JPEG oder PNG speichern.',
  photoCorners:
    'Die vier Ecken auf die Ecken des Blatts ziehen, die erste nach oben links; oder eine drücken und dann ihren Platz. Zum genauen Setzen vergrößern.',
  photoCatch: 'Punkte rücken auf Ecken und Kanten, die nahe bei ihnen zu sehen sind',
  photoClick:
    'Die Ecken des Umrisses nacheinander rundum anklicken; was danebenliegt, lässt sich verschieben.',
  photoKnown: 'Was daneben liegt',
  photoSheets: {
    a4: 'Ein Blatt A4',
    a3: 'Ein Blatt A3',
    letter: 'Ein Blatt Letter',
    other: 'Etwas anderes',
  },
  photoWide: 'Seine Breite',
  photoTall: 'Seine Höhe',
  photoTurned: 'Es liegt im Foto quer (breiter als hoch)',
  photoAdd: 'Ecke hinzufügen',
  photoUndo: 'Letzte Ecke entfernen',
  photoPoints: (count) => `${many(count, 'Ecke', 'Ecken')} gesetzt; ein Umriss braucht mindestens drei.`,
  photoCorner: (number) => `Ecke ${number} des Blatts`,
  photoPoint: (number) => `Ecke ${number} des Umrisses`,
  photoError: (error) => `höchstens ${error} daneben, wenn jede Ecke auf 2 Bildpunkte genau sitzt`,
  photoFar:
    'Der Umriss ist viel größer als das, woran er gemessen wird. Ein größeres Blatt danebenlegen oder eine Länge mit dem Lineal prüfen.',
  photoLens:
    'Maßhaltig wird nur, was flach und auf gleicher Höhe mit dem Blatt liegt. Weitwinkel verbiegen Linien zum Bildrand hin: Abstand nehmen und in der Bildmitte bleiben.',
  photoTake: 'Diesen Umriss nehmen',
  pick: 'Nehmen',
  pickAll: 'Alle auf der Seite nehmen',
  pickNone: 'Keinen nehmen',
  takeAs: (name) => `${name} als Schnittteil nehmen`,
  nameOf: (name) => `Name von ${name}`,
  count: 'Wie viele',
  countOf: (name) => `Wie viele von ${name}`,
  inside: 'darin',
  insideAs: (name) => `Was ist ${name} im Teil?`,
  as: {
    hole: 'ein Loch, ausgeschnitten',
    sewLine: 'die Nahtlinie',
    internal: 'eine Linie zum Einzeichnen',
    piece: 'ein eigenes Teil',
    ignore: 'nichts',
  },
  nothingLeft: (name) =>
    `Von ${name} bleibt nichts Brauchbares, wenn das als Loch Gewählte ausgeschnitten wird: dafür etwas anderes wählen.`,
  ground: 'Gilt als Stoff oder Rahmen um die Teile darin; ankreuzen, wenn es selbst ein Teil ist.',
  laidOn: (count) => `Auch nehmen, was auf ihnen liegt (${count})`,
  laidOnHelp:
    'Flicken, Taschen und Gurtbänder, die dort gezeichnet sind, wo sie aufgenäht werden, als eigene Teile',
  mirrorSaid: (words) =>
    `Die Zeichnung sagt „${words}“. Ist nur das halbe Teil gezeichnet, nach dem Hinzufügen am Teil seine Bruchkante wählen.`,
  mirroredOf: 'Spiegelbilder',
  saidFrom: 'Laut Zeichnung aus',
  heaps: (count) =>
    `${many(count, 'Gruppe', 'Gruppen')} von Umrissen, die sich berühren: ein Teil in Stücken?`,
  heap: (count, size) => `${count} Umrisse, zusammen ${size}`,
  said: (words) => `Die Zeichnung sagt: „${words}“`,
  saidOf: (name) => `Was von ${name} zu schneiden ist`,
  saidMaterial: 'Aus',
  plain: 'Wie gezeichnet',
  mirrored: 'Gespiegelt',
  onFold: 'Im Stoffbruch',
  forgetRow: 'Das weglassen',
  foldGuess:
    'Als Bruch gilt die längste Kante. Im Teil nachsehen und dort eine andere wählen, wenn sie nicht stimmt.',
  handsAsk: (count) => `${count} sind zu schneiden. Wie?`,
  alikeAnswer: (count) => `${count} gleiche`,
  pairsAnswer: (count) =>
    count === 2
      ? 'Eines und sein Spiegelbild'
      : `${Math.ceil(count / 2)} und ${Math.floor(count / 2)} gespiegelte`,
  doubleAsk: '„Doppelt“ kann hier zweierlei heißen.',
  onceAnswer: (count) => `${count} insgesamt, ob aus doppeltem Stoff oder nicht`,
  twiceAnswer: (count) => `${count} insgesamt: jedes mit seinem Spiegelbild`,
  usualNames: {
    main: 'Oberstoff',
    contrast: 'Kontraststoff',
    lining: 'Futter',
    interfacing: 'Einlage',
    foam: 'Schaumstoff',
  },
  openQuestions: (count) =>
    `${many(count, 'Frage', 'Fragen')} zum Zuschnitt ${count === 1 ? 'ist' : 'sind'} noch offen; siehe Liste.`,
  alike: (count, mirrored) =>
    mirrored === 0
      ? `${count} gleiche in der Zeichnung`
      : `${count} gleiche in der Zeichnung, davon ${mirrored} gespiegelt`,
  takeAlike: (count) => `Ein Teil, ${count}× schneiden`,
  splitAlike: 'Nur dieses',
  join: 'Zu einem verbinden',
  joinHelp: 'Für ein Teil, das in Stücken gezeichnet ist, die sich berühren',
  joinedStrips: 'mit Streifen der Nahtzugabe um die fertige Form',
  takeApart: 'Wieder trennen',
  joinedOf: (parts) => `aus ${parts} Umrissen verbunden`,
  cannotJoin: 'Diese Umrisse ergeben keine einzelne Form: Sie berühren sich nicht alle.',
  added: (count) => `${teile(count)} hinzugefügt.`,
  tooSlow:
    'Das Lesen dauerte zu lange und wurde aufgegeben. Enthält die Zeichnung viel mehr als den Schnitt?',
  broken: 'Das Lesen brach ab. Die Zeichnung ist so gebaut, dass dieses Programm ihr nicht folgen kann.',
  material: 'Material für diese Teile',
  add: (count) => (count === 0 ? 'Zuerst Umrisse wählen' : `${teile(count)} hinzufügen`),
  offPage: 'außerhalb der Seite',
  partlyOff: 'zum Teil außerhalb der Seite',
  warnings: 'Was beim Lesen auffiel',
  refused: 'Nicht zu gebrauchen',
  refusedCount: (count) =>
    `${many(count, 'Umriss', 'Umrisse')} ${count === 1 ? 'ist' : 'sind'} nicht zu gebrauchen`,
  password: 'Passwort der Datei',
  unlock: 'Öffnen',
  noticedBy: {
    hidden: 'Verborgenes wurde weggelassen.',
    invisible: 'Formen, von denen nichts zu sehen ist, wurden weggelassen.',
    script: 'Die Datei enthält ein Skript. Es wurde nicht ausgeführt.',
    external: 'Die Datei verweist auf andere Dateien oder Adressen. Das blieb unbeachtet.',
    picture: 'Die Datei enthält Bilder. Gelesen werden nur gezeichnete Linien.',
    clip: 'Linien, die nur zum Teil zu sehen sind, wurden ganz gelesen.',
    entities: 'Textkürzel in der Datei blieben, wie sie dastehen.',
    'bad-path': 'Eine beschädigte Linie wurde so weit gelesen, wie sie reicht.',
    'bad-number': 'Etwas mit unmöglichen Zahlen wurde weggelassen.',
    'bad-transform':
      'Eine Verschiebung oder Drehung in der Datei ist nicht zu verstehen; vielleicht steht etwas an falscher Stelle.',
    'clone-cycle': 'Etwas, das sich selbst enthält, wurde weggelassen.',
    'clone-missing': 'Die Datei verweist auf etwas, das nicht da ist; es wurde weggelassen.',
    tiny: 'Flecken ohne Breite wurden weggelassen.',
    crossing: 'Ein Umriss kreuzt sich; er wurde an seinem äußeren Rand entlang ausgebessert.',
    refused: 'Ein Umriss wurde nicht genommen.',
    open: 'Offene Linien umschließen nichts und sind keine Teile.',
    'off-page': 'Etwas liegt außerhalb der Seite.',
    'uneven-scale':
      'Die Datei dehnt die Zeichnung in Breite und Höhe verschieden. Eine bekannte Länge in beiden Richtungen prüfen.',
    'not-understood': 'Manches in der Datei ist nicht zu verstehen und wurde weggelassen.',
    limit: 'Die Datei enthält von etwas mehr, als ein Schnitt braucht; nicht alles wurde gelesen.',
    'no-outlines': 'In der Zeichnung fand sich kein geschlossener Umriss: noch nichts zu schneiden.',
    layer: 'Eine Ebene, die in der Datei ausgeschaltet ist, wurde weggelassen.',
    pages: 'Bei den Seiten ist etwas aufgefallen: mit dem Schnittmuster vergleichen.',
    approximated: 'Eine Kurve ist nur in Punkten gespeichert; dazwischen weicht sie vielleicht etwas ab.',
  },
  noticed: (what, parts) => (parts.length === 0 ? what : `${what} (${parts.join(', ')})`),
  noOutlines: 'In dieser Zeichnung gibt es keinen geschlossenen Umriss.',
  noOutlinesPicture:
    'Ein Scan lässt sich nachzeichnen: die Seite als JPEG oder PNG speichern und als Foto einlesen, mit dem Kontrollquadrat oder dem Blatt als Maß.',
  noOutlinesWay:
    'Die Ebenen und Hinweise neben der Zeichnung ansehen: Der Schnitt steht vielleicht auf einer ausgeschalteten Ebene, oder seine Linien treffen sich nicht.',
  hiddenSmall: (count) => `${many(count, 'kleiner Umriss', 'kleine Umrisse')} nicht gezeigt`,
  showSmall: 'Zeigen',
};
