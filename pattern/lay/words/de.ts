import type { LayWords } from './en.ts';

/** German words of laying out: why something does not fit, what had to give way, what to look at. */

const list = (names: readonly string[]): string =>
  names.length <= 1 ? (names[0] ?? '') : `${names.slice(0, -1).join(', ')} und ${names.at(-1)}`;

export const layDe: LayWords = {
  list,
  mirrored: (name) => `${name} (gespiegelt)`,
  impossible: {
    area: (area) => `Die Teile haben zusammen ${area} mehr Fläche als der Stoff.`,
    tooLong: (names, by) => `${names} ist in jeder erlaubten Richtung länger als der Stoff, um ${by}.`,
    tooWide: (names, by) => `${names} ist in jeder erlaubten Richtung breiter als der Stoff, um ${by}.`,
    noPose: (names) =>
      `Auf diesem Stoff gibt es keine Stelle, an der ${names} in einer erlaubten Richtung liegen kann, ohne über Ränder oder Fehlstellen zu ragen.`,
    pair: (names) => `${names}: einzeln passen sie, aber keine zwei davon zusammen.`,
    count: (names) => `Für so viele von ${names} ist kein Platz: Wie sie auch liegen, einige bleiben übrig.`,
  },
  notFound: (copies) =>
    `${copies === 1 ? 'Ein Teil hat' : `${copies} Teile haben`} noch keinen Platz gefunden. Das ist kein Beweis: Mehr Zeit oder eine lockerere Regel findet vielleicht einen.`,
  tooShort: (needs, has, short) =>
    `Der kürzeste gefundene Plan braucht ${needs}; da sind ${has}: Es fehlen ${short}. Das ist kein Beweis: Mehr Zeit findet vielleicht einen kürzeren.`,
  tooWide: (piece, cloth, needs, has, over) =>
    `${piece} braucht quer ${needs}, ${cloth} hat ${has}: ${over} zu breit. Es hilft ein breiterer Stoff, eine Drehung, die der Fadenlauf erlaubt, oder Stückeln.`,
  offRepeat: (piece, cloth) =>
    `Nirgends quer über ${cloth} liegt ${piece} auf seinem Platz im Rapport, ohne über einen Rand zu ragen. Einen anderen Punkt des Teils oder des Motivs wählen, mehr Abweichung erlauben oder prüfen, wo das erste Motiv liegt.`,
  offBorder: (piece, cloth) =>
    `${piece} passt nicht auf die Bordüre von ${cloth}: Auf der Linie ragt es über einen Rand. Prüfen, wo die Linie liegt und wie viel vom Teil darüber hinausgeht.`,
  onlyBorder: (piece, cloth) =>
    `${piece} hat neben der Bordüre von ${cloth} keinen Platz. Teile auch auf der Bordüre liegen lassen oder einen breiteren Stoff nehmen.`,
  laidSo: {
    single: 'Ausgelegt wird einlagig.',
    folded: 'Ausgelegt wird längs gefaltet.',
    sequence: 'Ausgelegt wird zuerst doppelt, dann aufgeschlagen.',
    crosswise: 'Ausgelegt wird quer gefaltet.',
    turned: 'Ausgelegt wird in zwei Lagen, am Querbruch auseinandergeschnitten und eine davon umgedreht.',
    middle: 'Ausgelegt wird mit beiden Webkanten zur Mitte.',
    partial: 'Ausgelegt wird zum Teil gefaltet.',
  },
  whyNot: {
    notFoldable: (cloth) => `${cloth} darf nicht gefaltet werden.`,
    printAcross: (cloth) =>
      `Bei ${cloth} liegt das Oben des Musters quer: Gefaltet stünde die obere Lage auf dem Kopf.`,
    printTurned: (cloth) => `Quer gefaltet stünde das Muster von ${cloth} in der oberen Lage auf dem Kopf.`,
    napTurned: (cloth) => `Quer gefaltet liefe der Strich von ${cloth} in der oberen Lage andersherum.`,
    unevenBars: (cloth) =>
      `Die Streifen oder Karos von ${cloth} sind ungleichmäßig: Gefaltet sähen die zwei Lagen nicht gleich aus.`,
    motifHidden: (cloth) =>
      `Teile liegen auf Motiven von ${cloth}; in einer unteren Lage sind sie nicht zu sehen.`,
    matchHidden: (cloth) =>
      `Auf ${cloth} müssen Teile zusammentreffen; in einer unteren Lage ist das nicht zu sehen.`,
    flawsHidden: (cloth) =>
      `${cloth} hat Fehlstellen: Wo sie in einem Querbruch zu liegen kommen, ist erst mit der Länge bekannt.`,
    borderHidden: (cloth) =>
      `Teile sitzen auf der Bordüre von ${cloth} oder halten sich davon frei; sie läuft an einer Kante und läge in zwei Lagen nicht gleich.`,
    skewed: (cloth) =>
      `Das Muster von ${cloth} läuft schräg zum Fadenlauf, in einer oberen Lage nach der anderen Seite.`,
    tooNarrow: (cloth) =>
      `${cloth} ist zu schmal, um so gefaltet zu werden: Webkanten und Ränder lassen nichts übrig.`,
    notNeeded: (cloth) => `Nichts in der Zuschnittliste ließe sich doppelt aus ${cloth} schneiden.`,
  },
  remarks: {
    grainAcross: (names, cloth) =>
      `Damit das Muster auf ${cloth} aufrecht steht, liegt der Fadenlauf von ${names} quer.`,
    skewed: (names, cloth, degrees) =>
      `Das Muster von ${cloth} läuft ${degrees}° schräg zum Fadenlauf, und ${names} mit ihm. Schräg zum Fadenlauf ausgelegter Stoff hängt vielleicht schief: Soll der Fadenlauf gelten, das beim Rapport wählen.`,
    foldOffGrain: (names) =>
      `Die Bruchkante von ${names} läuft nicht im Fadenlauf oder dreht die Oberkante falsch herum, deshalb ganz geschnitten.`,
    oneHandBias: (names) =>
      `${names} soll schräg zu einer bestimmten Seite liegen: In der oberen von zwei Lagen läge es zur anderen, deshalb einlagig geschnitten.`,
    foldFaded: (names, cloth) =>
      `${cloth} ist dort ausgeblichen, wo der Bruch läge, deshalb wird ${names} ganz statt im Bruch geschnitten.`,
  },
  miscounted: (piece, hand, cut, asked) =>
    `${piece}: Der Plan gibt ${cut} ${hand}, die Zuschnittliste verlangt ${asked}. Nicht nach diesem Plan schneiden und bitte melden.`,
  hands: { plain: 'wie gezeichnet', mirrored: 'gespiegelt', altogether: 'insgesamt' },
  match: {
    gone: (both) =>
      `Eine Kante oder ein Knips, an dem ${both} zusammentreffen sollten, ist nicht mehr da: neu wählen.`,
    lengths: (both, a, b) =>
      `Die Kanten, an denen ${both} zusammentreffen, sind verschieden lang, ${a} und ${b}: Die Streifen treffen nur in der Mitte.`,
    seamUnknown: (pieces, both) =>
      `Wie viel Nahtzugabe in der Schnittlinie von ${pieces} steckt, ist nicht bekannt; wo ${both} zusammenpassen sollen, treffen sich die Streifen deshalb an der Schnittkante. Beim Teil angeben, wie viel Zugabe darin ist: dann treffen sie sich an der Naht.`,
    ring: (both, across, up) =>
      `${both} hängen auch über andere Teile zusammen, und der Rapport kann nicht an jeder Naht treffen: Hier weicht er bis zu ${across} quer und ${up} in der Höhe ab.`,
  },
  nothingToCut: (material) => `Aus ${material} ist nichts zu schneiden.`,
  noCloth: (material) =>
    `Für ${material} gibt es noch keinen Stoff. Einen Ballen oder einen Rest hinzufügen, um zu sehen, wie die Teile fallen.`,
  marginTooLarge: (cloth, margin) =>
    `${cloth}: Der Rand von ${margin} lässt keinen Stoff übrig. Kleiner wählen.`,
  noWidth: (cloth, width) =>
    `${cloth}: Webkanten und Ränder lassen keine nutzbare Breite. Mit den ${width} Breite vergleichen.`,
  foldShort: (cloth, names, needs, has) =>
    `Auf ${cloth} ist nicht genug Bruch: ${names} brauchen ${needs}, da sind ${has}. Es wird noch einmal ausgelegt, halbe Teile dort aufgeklappt, wo das hilft.`,
  joined: (piece, lengths) => `${piece} wird aus ${lengths} Längen gestückelt.`,
  fromElsewhere: (piece, copies, material) =>
    `${piece}: ${copies === 1 ? 'eines fand' : `${copies} fanden`} Platz auf ${material}, ohne mehr davon zu brauchen.`,
  pieceMissing: (id) =>
    `Die Zuschnittliste verlangt ein Teil „${id}“, das nicht im Projekt ist; es bleibt weg.`,
  about: (name, text) => `${name}: ${text}`,
  noSizeOfSet: 'Es lässt sich nicht in der Größe jedes Satzes machen.',
  cloth: {
    flawOutside: (number) =>
      `Fehlstelle ${number} liegt außerhalb des Stoffs und ändert nichts. Den Platz prüfen.`,
    oneSet: 'Die Zuschnittliste ist ein Satz, deshalb zeigen alle Teile in dieselbe Richtung.',
    printOverNap: 'Das Muster hat ein Oben, das die Richtung jedes Teils festlegt; der Strich ändert nichts.',
    upsideDownBack: (piece, cloth, isPrint, at) => {
      const where = at === 'top' ? 'auf einer Seite des Trägers' : 'hinten';
      const what = isPrint
        ? `steht das Muster ${where} auf dem Kopf`
        : `läuft der Strich ${where} andersherum`;
      return `${piece} ist Vorder- und Rückseite in einem: Auf ${cloth} ${what}. ${at === 'top' ? 'Oben' : 'Am Boden'} teilen: zwei Hälften, jede mit einer Nahtzugabe mehr.`;
    },
    strapTurns: (piece, cloth) =>
      `${piece} ist ein Träger: Auf ${cloth} mit seinem Oben steht er nur auf einer Seite der Schulter aufrecht. Wenn das stört: beim Teil „Vorder- und Rückseite in einem Teil“ ankreuzen und es oben teilen.`,
    printAslant: (degrees, by, over) =>
      `Das Muster läuft ${degrees}° schräg zum Fadenlauf, die Teile bleiben im Fadenlauf; das Muster läuft also schräg darüber: um ${by} auf ${over}.`,
    noBorder: (names) =>
      `${names} soll auf einer Bordüre sitzen, dieser Stoff hat aber keine: Es liegt irgendwo. Beim Rapport angeben, wo die Bordüre ist.`,
    borderTooDeep: (depth, both, width) =>
      `Die Bordüre reicht ${depth} vom Rand${both ? ' auf beiden Seiten' : ''}, und der Stoff ist ${width} breit. Eines von beiden berichtigen.`,
    usableTooWide: (usable, whole) =>
      `Die nutzbare Breite von ${usable} ist größer als die ganze Breite von ${whole}. Eine von beiden berichtigen.`,
    fadedOutside: (at) =>
      `Ein ausgeblichener Streifen ${at} ab Webkante liegt außerhalb des Stoffs und ändert nichts. Den Platz prüfen.`,
    repeatAcross: (repeat, width) =>
      `Der Rapport von ${repeat} quer ist größer als die Breite von ${width}. Von einem Motiv zur selben Stelle des nächsten messen.`,
    repeatOverRemnant: (repeat, has, isAlong) =>
      `Der Rapport von ${repeat} ${isAlong ? 'längs' : 'quer'} ist größer als die ${has}, die da sind: Höchstens ein Motiv ist darauf. Das Maß prüfen und wo das erste Motiv liegt.`,
    repeatAlong: (repeat, length) =>
      `Der Rapport von ${repeat} längs ist größer als die ${length}, die da sind. Von einem Motiv zur selben Stelle des nächsten messen.`,
  },
  outOfTime:
    'Die Suche wurde nach der längsten erlaubten Zeit beendet; das ist der beste bis dahin gefundene Plan.',
  failed: {
    outOfMemory:
      'Das Auslegen brauchte mehr Speicher als erlaubt und wurde beendet. Weniger Teile auf einmal auslegen oder ihre Umrisse vereinfachen.',
    brokeDown:
      'Der Programmteil, der daran arbeitete, brach mehr als einmal zusammen, und das Auslegen wurde aufgegeben. Noch einmal versuchen; mehr steht im Protokoll des Servers.',
    closed: 'Der Server wird gerade beendet.',
    fault: 'Das Auslegen ging wegen eines Fehlers im Programm nicht; er steht im Protokoll des Servers.',
  },
  sets: {
    needsLength:
      'Das kann nur Stoff bekannter Länge beantworten: ein Rest oder ein Ballen, bei dem steht, wie viel da ist.',
    notMeasured: (piece) =>
      `${piece} hat keine Maße, die sich ändern könnten: Es stammt aus einer Zeichnung.`,
    tooMuchArea: 'Mehr Fläche, als der Stoff hat.',
  },
  buy: {
    noOffers: 'Noch nichts zur Auswahl: eintragen, was der Laden hat, mit Preis.',
    offerTwice: (id, name) => `Die Kennung ${id} von ${name} trägt schon ein anderes Angebot oder ein Stoff.`,
    nothingToCut: 'Aus diesem Material ist nichts zu schneiden, also auch nichts zu kaufen.',
    noPrice: (name) => `${name} hat keinen Preis: einen eintragen oder das Angebot entfernen.`,
    noUsableCloth: (name) => `Die Webkanten von ${name} lassen keinen Stoff dazwischen.`,
    notPlaced: 'Nicht alles fand einen Platz.',
  },
};
