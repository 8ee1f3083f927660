import type * as en from '../en/frame.ts';
import { did } from './commands.ts';
import { many, teile, und } from './words.ts';

/** The frame of the page: header, saving, projects, steps, words used everywhere. */

export const app: typeof en.app = {
  name: 'clothlay',
  skip: 'Zur Arbeit springen',
  loading: 'Das Projekt wird geöffnet …',
  failed: 'Das Projekt ließ sich nicht öffnen.',
  again: 'Noch einmal versuchen',
  partMissing: 'Dieser Teil der Seite ließ sich nicht holen: keine Verbindung.',
};

export const header: typeof en.header = {
  projects: 'Projekte',
  projectName: 'Name des Projekts',
  units: 'Maßeinheit',
  unitNames: { cm: 'cm', mm: 'mm', in: 'Zoll' },
  undo: 'Rückgängig',
  redo: 'Wiederholen',
  undoWhat: (what) => `Rückgängig: ${what}`,
  redoWhat: (what) => `Wiederholen: ${what}`,
  theme: 'Hell oder dunkel',
  themeNames: { auto: 'System', light: 'Hell', dark: 'Dunkel' },
  language: 'Sprache',
  more: 'Projekt und Einstellungen',
};

export const signIn: typeof en.signIn = {
  title: 'An der Werkstatt anmelden',
  text: 'Dieses clothlay ist im Netz freigegeben und fragt nach seinem Passwort.',
  again: 'Die Sitzung ist abgelaufen. Die Arbeit ist noch da: anmelden, dann geht es weiter.',
  password: 'Passwort',
  show: 'Zeigen, was ich tippe',
  go: 'Anmelden',
  help: 'Wer clothlay gestartet hat, kennt es. Ist keines gesetzt, steht der Schlüssel am Ende der Adresse, die beim Start ausgegeben wurde.',
  missing: 'Das Passwort eingeben.',
  wrong: 'Das ist nicht das Passwort.',
  tooMany: 'Zu viele falsche Passwörter. Eine Viertelstunde warten und noch einmal versuchen.',
  out: 'Abmelden',
};

export const saving: typeof en.saving = {
  saved: 'Gespeichert',
  saving: 'Wird gespeichert …',
  offline: 'Nicht gespeichert: keine Verbindung',
  unreachable: 'Der Server antwortet nicht.',
  keptHere: 'Die Arbeit bleibt in diesem Browser und wird gesendet, sobald es geht.',
  keptNowhere:
    'Auch dieser Browser kann die Arbeit nicht aufheben: das Projekt jetzt in einer Datei sichern.',
  refused: 'Nicht gespeichert',
  refusedWhy: (reason) => `Der Server hat es nicht angenommen: ${reason}`,
  conflict: 'Nicht gespeichert: anderswo geändert',
  tryAgain: 'Noch einmal versuchen',
  toFile: 'In einer Datei sichern',
  asNew: 'Als neues Projekt behalten',
  details: 'Zum Speichern',
};

export const versions: typeof en.versions = {
  title: 'Frühere Fassungen',
  help: 'Jede Änderung bleibt eine Weile erhalten: die letzten alle, dann eine je Stunde, dann eine je Tag. Zurückgehen ist ein Schritt wie jeder andere: „Rückgängig“ nimmt ihn zurück.',
  none: 'Es gibt noch keine frühere Fassung.',
  look: 'Vergleichen',
  lookAt: (time) => `Vergleichen: Fassung vom ${time} mit jetzt`,
  goBack: 'Zurück zu dieser Fassung',
  same: 'Dasselbe wie jetzt.',
  since: 'Seitdem:',
  loading: 'Wird nachgesehen …',
  added: (names) => `hinzugekommen: ${names}`,
  removed: (names) => `entfernt: ${names}`,
  changed: (names) => `geändert: ${names}`,
  kinds: {
    pieces: 'Schnittteile',
    materials: 'Materialien',
    cutList: 'Zuschnittliste',
    cloths: 'Stoffe',
    plans: 'Pläne',
    rest: 'Projekt',
  },
  rest: {
    name: 'Name',
    notes: 'Notizen',
    layChoices: 'wie ausgelegt wird',
    sets: 'Sätze',
    matches: 'Kanten, die zusammentreffen',
    cutting: 'Arbeit am Tisch',
  },
};

export const conflict: typeof en.conflict = {
  title: 'Jemand anders hat dieses Projekt geändert',
  text: (name, time) =>
    `„${name}“ wurde währenddessen in einem anderen Fenster oder von jemand anderem gespeichert (${time}). Nichts wird überschrieben, bevor die Wahl getroffen ist.`,
  joinable: 'Änderungen an verschiedenen Dingen werden zusammengeführt. Beide haben geändert:',
  removed: 'hier entfernt, dort geändert',
  joinMine: 'Zusammenführen, hier die eigene Fassung',
  joinTheirs: 'Zusammenführen, hier die andere Fassung',
  takeTheirs: 'Die andere Fassung nehmen',
  takeTheirsHelp: 'Die eigene bleibt mit einmal „Rückgängig“ erreichbar.',
  keepBoth: 'Die eigene als Kopie behalten',
  keepBothHelp: 'Die andere bleibt, wie sie ist; die eigene wird ein Projekt für sich.',
};

export const session: typeof en.session = {
  untitled: 'Neues Projekt',
  undoLabel: 'Rückgängig',
  copyOf: (name) => `${name} (Kopie)`,
  mineOf: (name) => `${name} (meine Fassung)`,
  deleted: (name) => `„${name}“ ist gelöscht.`,
  opened: (name) => `„${name}“ ist geöffnet.`,
  updatedElsewhere: 'Auf den neuesten Stand gebracht: Das Projekt wurde in einem anderen Fenster geändert.',
  restoredUnsent: 'Arbeit, die beim Verlassen noch nicht gesendet war, ist wieder da.',
  fromCopy:
    'Keine Verbindung. Dies ist das Projekt, wie dieser Browser es zuletzt hatte. Einfach weiterarbeiten: Alles bleibt hier und wird gesendet, wenn der Server antwortet.',
  newerPage: 'clothlay wurde erneuert. Diese Seite ist noch die vorige.',
  loadAnew: 'Die neue laden',
  joined:
    'Dieses Projekt wurde auch anderswo geändert. Beides ist zusammengeführt: Von keinem ist etwas verloren.',
  wentBack: (time) => `Das Projekt ist wieder wie am ${time}.`,
  stepsNotKept:
    'Dieser Browser hebt keine Schritte auf (kein Platz, oder es ist verboten): „Rückgängig“ reicht nur so weit zurück wie dieser Besuch.',
  layers: (material, added, gone) =>
    [
      added.length > 0
        ? `${material} folgt: ${und(added)} ${added.length === 1 ? 'wird' : 'werden'} jetzt auch daraus geschnitten.`
        : '',
      gone.length > 0
        ? `${und(gone)} ${gone.length === 1 ? 'wird' : 'werden'} aus ${material} nicht mehr verlangt und ${gone.length === 1 ? 'ist' : 'sind'} dort entfernt.`
        : '',
    ]
      .filter((part) => part !== '')
      .join(' '),
  undid: (name, subject) => `Rückgängig gemacht: ${did[name](subject)}`,
  redid: (name, subject) => `Wieder ausgeführt: ${did[name](subject)}`,
  layLost: 'Der Server hat diese Auslegung verloren. Zum Weiterarbeiten noch einmal auslegen.',
  layFailed:
    'Das Auslegen ist fehlgeschlagen. Noch einmal auslegen; schlägt es wieder fehl, das Projekt in einer Datei sichern und uns melden.',
  unreachable: 'Der Server antwortet nicht. Läuft er noch?',
};

export const projects: typeof en.projects = {
  title: 'Projekte',
  new: 'Neues Projekt',
  open: 'Öffnen',
  isOpen: 'jetzt geöffnet',
  duplicate: 'Duplizieren',
  delete: 'Löschen',
  changed: (time) => `geändert ${time}`,
  openFile: 'Eine Datei öffnen',
  saveFile: 'In einer Datei sichern',
  fileHelp: 'Eine Datei enthält das ganze Projekt: als Sicherung oder zum Weitergeben.',
  fileTooBig: 'Diese Datei ist zu groß für ein Projekt.',
  openNamed: (name) => `Öffnen: ${name}`,
  duplicateNamed: (name) => `Duplizieren: ${name}`,
  deleteNamed: (name) => `Löschen: ${name}`,
  notes: 'Notizen zu diesem Projekt',
};

export const serverProblems: typeof en.serverProblems = {
  'stale-revision': 'Es wurde inzwischen in einem anderen Fenster geändert. Nichts wurde gespeichert.',
  'body-too-large': 'Es ist größer, als der Server annimmt.',
  'too-many-requests': 'So viele Anfragen kamen in einer Minute, dass die nächsten warten.',
  'queue-full':
    'So viele Auslegungen warten, dass keine mehr dazupasst. Noch einmal versuchen, wenn eine fertig ist.',
  'your-queue-full':
    'Es warten schon so viele eigene Auslegungen, wie erlaubt sind. Noch einmal versuchen, wenn eine fertig ist.',
  'queue-unreachable': 'Die Warteschlange der Auslegungen antwortet nicht. Gleich noch einmal versuchen.',
  'files-full':
    'Es werden so viele Dateien erstellt, dass diese keinen Platz findet. Gleich noch einmal versuchen.',
  'file-too-much':
    'Diese Datei braucht mehr, als eine darf. Weniger Teile oder einen Stoff nach dem anderen nehmen.',
  'file-broke-down':
    'Das Erstellen der Datei brach zusammen. Gespeichertes ist unverändert; noch einmal versuchen.',
  restoring: 'Eine Sicherung wird gerade zurückgeholt. Warten, bis es fertig ist.',
  backup: 'Das ist keine Sicherung, die sich zurückholen lässt.',
  shelf: 'Das geht im Regal nicht: Es hat sich seither geändert.',
  'storage-full': 'Die Festplatte ist voll: Nichts wurde gespeichert. Früher Gespeichertes bleibt erhalten.',
  'storage-readOnly': 'In den Datenordner lässt sich nicht schreiben: Nichts wurde gespeichert.',
  'storage-damaged': 'Die Datei mit den Projekten ist beschädigt. Sie wurde so gelassen.',
  'storage-foreign': 'Die Datei mit den Projekten gehört einem anderen Programm. Sie wurde so gelassen.',
  'storage-newer': 'Die Datei mit den Projekten stammt aus einer neueren Version dieses Programms.',
  'storage-busy':
    'Die Datei mit den Projekten ist von einem anderen Prozess belegt. Gleich noch einmal versuchen.',
  'storage-moved': 'Die Datei mit den Projekten wurde verschoben oder gelöscht: Nichts wurde gespeichert.',
  'storage-unreadable': 'Gespeichertes lässt sich nicht lesen. Es wurde so gelassen.',
  'storage-unavailable': 'Die Datei mit den Projekten lässt sich nicht öffnen: Nichts wurde gespeichert.',
  internal:
    'Der Server hatte einen eigenen Fehler; er steht in seinem Protokoll. Gespeichertes ist unverändert.',
  unknown: 'Der Server hat es nicht mehr.',
};

export const backup: typeof en.backup = {
  title: 'Sicherung von allem',
  help: 'Eine Datei mit allen Projekten, ihren früheren Fassungen, den gelöschten und dem Stoffregal mit seinen Bildern. Zurückholen überschreibt nie: Was fehlt, kommt wieder; was anders ist, kommt daneben.',
  save: 'Sicherung speichern',
  restore: 'Sicherung zurückholen',
  working: 'Wird zurückgeholt …',
  done: (time) => `Sicherung vom ${time} zurückgeholt.`,
  nothingToDo: 'Alles darin ist schon da.',
  added: (names) => `Wieder da: ${names}.`,
  beside: (names) => `Hier anders, deshalb daneben gelegt: ${names}.`,
  binned: (names) => `Wieder unter den gelöschten Projekten: ${names}.`,
  unchanged: (count) => `Schon da: ${many(count, 'Projekt', 'Projekte')}.`,
  shelfAdded: (count) => `Wieder im Regal: ${many(count, 'Stoff', 'Stoffe')}.`,
  shelfKept: (names) => `Im Regal seither geändert und so gelassen: ${names}.`,
  leftOut: (names) => `Nicht lesbar: ${names}`,
};

export const steps: typeof en.steps = {
  label: 'Arbeitsschritte',
  name: {
    // Soft hyphens: on a phone the steps stand side by side.
    pieces: 'Schnitt\u00ADteile',
    cutlist: 'Zuschnitt\u00ADliste',
    cloths: 'Stoffe',
    plan: 'Zuschnitt\u00ADplan',
    cut: 'Zu\u00ADschneiden',
  },
  lacks: (count) => many(count, 'Sache zu klären', 'Sachen zu klären'),
  next: (name) => `Weiter zu: ${name}`,
  nothingYet: 'noch nichts',
  pieces: teile,
  copies: (count) => `${count} Stück`,
  cloths: (count) => many(count, 'Stoff', 'Stoffe'),
  running: 'wird ausgelegt …',
  laidOut: 'ausgelegt',
  toLay: (count) => `${count} auszulegen`,
  cut: (done, total) => `${done} von ${total} geschnitten`,
};

/** Steps with nothing in them yet. */
export const empty: typeof en.empty = {
  label: 'Noch nichts hier',
  cutlist: [
    'Hier bekommt jedes Teil seine Anzahl: aus welchem Material, und wie viele wie gezeichnet, gespiegelt oder im Bruch.',
    'Summen, mitgehendes Futter und Einlagen und Seiten, die kein Paar ergeben, folgen daraus.',
  ],
  cloths: [
    'Ein Stoff ist ein Ballen mit seiner Breite oder ein Rest mit Umriss und Fehlstellen.',
    'Wie er ist (Fadenlauf, Strich, Druck, doppelt oder nicht), bestimmt, wie Teile darauf liegen dürfen. Jedes Material der Zuschnittliste wird aus einem oder mehreren geschnitten.',
  ],
  plan: [
    'Hier werden die Teile auf den Stoff gelegt: wie viel zu kaufen ist, ob ein Rest reicht, und die Zeichnung, nach der geschnitten wird.',
    'Dafür braucht es Teile mit Anzahl und einen Stoff für ihr Material.',
  ],
  cut: [
    'Nach dem Auslegen stehen hier die Schnitte der Reihe nach, gerade zuerst, zum Abhaken am Tisch, auch am Telefon.',
    'Auch ohne Zuschnittplan lassen sich die Teile der Zuschnittliste abhaken.',
  ],
};

export const lacks: typeof en.lacks = {
  title: 'Zu klären',
  noPieces: 'Noch keine Schnittteile.',
  pieceFaulty: (name, text) => `${name}: ${text}`,
  noMaterials: 'Noch kein Material: angeben, woraus die Teile geschnitten werden.',
  notCut: (names) => `Aus keinem Material geschnitten: ${names}.`,
  noCloth: (material) => `Kein Stoff für ${material}.`,
  notLaid: (material) => `${material}: noch nicht ausgelegt.`,
  outOfDate: (material) => `${material}: seit dem Auslegen geändert.`,
  unplaced: (material) => `${material}: Teile ohne Platz.`,
  goTo: 'Zeigen',
  goToStep: (name) => `Gehe zu: ${name}`,
  goes: {
    pieces: 'Teil zeigen',
    cutlist: 'Zuschnittliste zeigen',
    cloths: 'Stoff zeigen',
    plan: 'Im Zuschnittplan zeigen',
    cut: 'Zuschnitt zeigen',
  },
  more: (count) => `${count} weitere`,
};

export const common: typeof en.common = {
  cancel: 'Abbrechen',
  close: 'Schließen',
  remove: 'Entfernen',
  duplicate: 'Duplizieren',
  name: 'Name',
  notes: 'Notizen',
  help: 'Was bedeutet das?',
  copyName: (name) => `${name} 2`,
  and: und,
  andMore: (names, most) =>
    names.length <= most
      ? names.join(', ')
      : `${names.slice(0, most).join(', ')} und ${names.length - most} weitere`,
  needNumber: 'Eine ganze Zahl eingeben.',
  atMost: (count) => `Höchstens ${count}.`,
  needAngle: 'Einen Winkel in Grad eingeben, etwa 45.',
  needName: 'Ein Name fehlt.',
  needPrice: 'Einen Betrag eingeben, etwa 12,50.',
};
