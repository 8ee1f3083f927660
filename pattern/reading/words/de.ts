import type { ReadingWords } from './en.ts';

/** German words for why a drawing, or an outline in it, can't be used, and what was mended. Whole sentences. */
export const readingDe: ReadingWords = {
  empty: 'Die Datei ist leer. Sie noch einmal kopieren oder herunterladen und die neue wählen.',
  tooLarge: (megabytes) =>
    `Die Datei ist größer als ${megabytes} MB, mehr, als eine Schnittzeichnung haben sollte. Nur die Seiten mit dem Schnitt speichern.`,
  packedDamaged:
    'Die Datei ist gepackt und beschädigt oder abgeschnitten. Sie noch einmal kopieren oder herunterladen und die neue wählen.',
  packedTooMuch: 'Die Datei schwillt beim Entpacken über jedes Maß an; das ist zu viel für einen Schnitt.',
  archive: 'Das ist ein Archiv, wie immer es heißt. Es entpacken und die Zeichnung darin wählen.',
  dwg: 'Das ist eine DWG-Datei. Sie im Programm, aus dem sie stammt, als DXF speichern und diese wählen.',
  picture: 'Das ist ein Bild, keine Zeichnung. Es als JPEG oder PNG speichern und als Foto nachzeichnen.',
  postScript: 'Das ist PostScript. Es im Programm, aus dem es stammt, als PDF speichern und dieses wählen.',
  office:
    'Das ist ein Office-Dokument. Es im Programm, aus dem es stammt, als PDF speichern und dieses wählen.',
  neither:
    'Das ist weder eine SVG- noch eine DXF- oder PDF-Zeichnung. Den Schnitt im Programm, aus dem er stammt, als eine davon speichern.',
  cannotFollow:
    'Die Zeichnung ließ sich nicht lesen: Ihrem Aufbau kann dieses Programm nicht folgen. Sie neu als PDF oder einfaches SVG speichern.',
  tooManyLines:
    'Die Zeichnung hat mehr Linien, als ein Schnitt haben darf. Nur den Schnitt speichern, ohne Bilder und Muster, und das einlesen.',
  tooManyElements: (most) =>
    `Die Datei enthält mehr als ${most} Elemente; das ist zu viel für einen Schnitt. Nur den Schnitt speichern und das einlesen.`,
  tooManyOutlines: (most) =>
    `Die Zeichnung enthält mehr als ${most} geschlossene Umrisse; das ist zu viel für einen Schnitt. Nur den Schnitt speichern und das einlesen.`,
  tooManyClones: (most) =>
    `Klone von Klonen in der Datei ergeben mehr als ${most} Elemente; das ist zu viel für einen Schnitt.`,
  tooDeep: (most) =>
    `Die Datei schachtelt Elemente tiefer als ${most}-fach; das ist kein Schnitt. Sie als einfaches SVG speichern und das einlesen.`,
  entitiesSwell:
    'Die Datei würde über jedes Maß anschwellen, wenn ihre Textkürzel (Entities) ausgeschrieben werden.',
  svgPacked: 'Die Datei ist ein gepacktes SVG (svgz). Sie als einfaches SVG speichern und das einlesen.',
  pdfNotSvg: 'Das ist ein PDF, keine SVG-Zeichnung.',
  notSvg:
    'Das ist keine SVG-Zeichnung: Sie beginnt nicht wie eine. Den Schnitt im Programm, aus dem er stammt, als SVG, DXF oder PDF speichern.',
  noSvgElement:
    'Das ist keine SVG-Zeichnung: Es fand sich kein Zeichnungselement darin. Den Schnitt im Programm, aus dem er stammt, als SVG, DXF oder PDF speichern.',
  otherElement: (name) =>
    `Das ist keine SVG-Zeichnung: Ihr äußerstes Element ist <${name}>. Die Zeichnung selbst wählen, nicht eine Seite, die sie zeigt.`,
  svgCutOff: 'Die Datei ist abgeschnitten: Ihr Ende fehlt. Sie noch einmal speichern oder herunterladen.',
  svgDamaged: (line) =>
    `Die Datei ist in Zeile ${line} beschädigt. Sie im Zeichenprogramm noch einmal speichern.`,
  binaryDxf: 'Das ist eine binäre DXF-Datei. Sie als Text-DXF (ASCII) speichern und die einlesen.',
  pdfNotDxf: 'Das ist ein PDF, keine DXF-Zeichnung.',
  noSections:
    'Das ist keine DXF-Zeichnung: Sie hat keine Abschnitte. Den Schnitt im Programm, aus dem er stammt, als SVG, DXF oder PDF speichern.',
  notDxf:
    'Das ist keine DXF-Zeichnung: Sie beginnt nicht wie eine. Den Schnitt im Programm, aus dem er stammt, als SVG, DXF oder PDF speichern.',
  dxfDamaged: (line) =>
    `Die DXF-Datei ist in Zeile ${line} beschädigt: Dort fehlt ein Gruppencode. Sie noch einmal speichern oder herunterladen.`,
  dxfTooMuch:
    'Die DXF-Datei enthält mehr Daten, als ein Schnitt haben darf. Nur den Schnitt speichern und das einlesen.',
  dxfCutOff: 'Die DXF-Datei ist abgeschnitten: Ihr Ende fehlt. Sie noch einmal speichern oder herunterladen.',
  blocksTooDeep:
    'Blöcke in Blöcken reichen zu tief für einen Schnitt. Sie im Programm, aus dem sie stammen, auflösen und das einlesen.',
  tooManyPieces: (most) => `Die Datei enthält mehr als ${most} Teile. Weniger speichern und die einlesen.`,
  notPdf: 'Das ist kein PDF: Die Datei beginnt nicht wie eines.',
  pdfSwells: 'Das PDF schwillt beim Entpacken über jedes Maß an; das ist zu viel für einen Schnitt.',
  pdfStopped: 'Das Lesen wurde angehalten.',
  pdfDamaged:
    'Das PDF ist beschädigt oder abgeschnitten und lässt sich nicht lesen. Es noch einmal kopieren oder herunterladen und das neue wählen.',
  pdfLocked:
    'Das PDF ist mit einem Kennwort gesperrt. Es eintippen oder das PDF in einem PDF-Programm ohne Kennwort speichern.',
  pdfWrongPassword: 'Das Kennwort öffnet dieses PDF nicht.',
  noSuchPages: 'Keine der verlangten Seiten ist im PDF.',

  gapClosed: (mm) => `Seine Enden liegen ${mm.replace('.', ',')} mm auseinander und wurden verbunden.`,
  halvesJoined: (lines) =>
    `Er war aus ${lines} offenen Linien gezeichnet, die sich berühren, und wurde zu einem Umriss verbunden.`,
  fillClosed:
    'Seine Linie ist offen, seine Fläche aber gefüllt; er wurde mit einer geraden Linie geschlossen.',
  crossingMended: 'Seine Linie kreuzt sich; sie wurde an ihrem äußeren Rand entlang ausgebessert.',
  touchMended:
    'Seine Linie berührt sich oder läuft auf sich zurück; sie wurde an ihrem äußeren Rand entlang ausgebessert.',

  notUsed: (name, why) => `Der Umriss „${name}“ ${why}; er wurde nicht genommen.`,
  isHuge: (metres) => `ist größer als ${metres} m`,
  isTangled: (crossings) => `kreuzt sich mehr als ${crossings}-mal`,
  isIntricate: 'ist zu verwickelt, um zu sagen, ob er sich kreuzt',
  holdsNothing: 'läuft auf sich selbst zurück und umschließt nichts',
  fallsApart: (parts, sizes) =>
    `kreuzt sich und zerfällt in ${parts} Teile (${sizes}), sodass unklar ist, was geschnitten wird`,
  isUnmendable: 'kreuzt sich so, dass er sich nicht ausbessern ließ',
  hasManyCorners: (most) => `hat mehr als ${most} Ecken`,

  dpiUnknown:
    'Die Datei sagt nicht, wie groß sie ist. Sie wurde mit 96 Punkten je Zoll gelesen, ist aber vielleicht mit 90 oder 72 gezeichnet: eine bekannte Länge prüfen.',
  dpiLikely: (dpi) =>
    `Die Datei sagt nicht, wie groß sie ist. Sie wurde mit 96 Punkten je Zoll gelesen, das Programm aber, das sie schrieb, zeichnete mit ${dpi}: eine bekannte Länge prüfen.`,
  unitNames: { mm: 'Millimeter', cm: 'Zentimeter', m: 'Meter', in: 'Zoll' },
  unitUnknown: (unit, isHinted) =>
    `Die Datei sagt nicht, in welcher Einheit sie gezeichnet ist. Gelesen wurde sie in ${unit}${
      isHinted ? ', worauf eine Angabe darin deutet' : ''
    }: eine bekannte Länge prüfen.`,

  manyHoles: (most, picked) => `Ein Teil kann höchstens ${most} Löcher haben (${picked} gewählt).`,
  manyMarks: (most) => `Auf einem Teil können höchstens ${most} Linien gezeichnet sein.`,
  holeOutside: (hole, outline) => `Das Loch „${hole}“ liegt nicht im Umriss „${outline}“.`,
};
