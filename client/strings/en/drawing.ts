import type { ReadingWarning } from '../../../pattern/reading/drawing.ts';
import { many } from './words.ts';

/** Bringing in a drawing: the dialog and what it finds. */

export const drawing = {
  title: 'Bring in a drawing',
  lead: 'An SVG, DXF or PDF file drawn at true size: you will see every closed outline with its size and choose which are pieces. Or a photo of a paper piece that lies flat beside a sheet of known size: you trace it.',
  choose: 'Choose an SVG, DXF or PDF file, or a photo',
  drop: 'or drop one here',
  reading: 'Reading the drawing …',
  readingAgain: 'Reading it again …',
  failed: 'This file can’t be read.',
  tooLarge: (megabytes: number) =>
    `The file is larger than ${megabytes} MB. Save only the pages with the pattern, without photos.`,
  another: 'Another file',
  page: 'The drawing',
  outlines: 'Closed outlines',
  found: (count: number) => many(count, 'closed outline'),
  scaleKnown: 'The file states its physical size.',
  scaleUnknown: 'The file does not state a physical size: check it before you cut.',
  scaleBySquare: 'The test square in the drawing measures what it should.',
  squareFound: (kind: 'square' | 'bar', stated: string, measured: string) =>
    `${kind === 'square' ? 'Test square' : 'Scale bar'} “${stated}” found: it measures ${measured} here.`,
  squareCorrect: 'Correct the size by it',
  squareLeave: 'Leave the size as it is',
  squareLeft: 'Left as it is: the pieces come in at the size of the file.',
  squareMarked: 'Until you decide, its pieces are marked “not true to size”, here and on the plan.',
  squareWays: (across: string, up: string) =>
    `Lengths across come out at ${across} of their true size, lengths up at ${up}.`,
  squareStretch: 'Correct across and up, each by itself',
  squareStretched: (across: string, up: string) =>
    `The pieces come in corrected: across by ${across}, up by ${up}. Seam allowances drawn in them are stretched as well.`,
  printCheck: 'Check a print of it',
  printHelp:
    'Measure the test square on every sheet of the print, across and up, and type it here: sometimes a single sheet comes out at another size.',
  printStated: 'The square should measure',
  printCoarse: (square: string, ruler: string, share: string) =>
    `On ${square}, half a step of the ruler (${ruler}) is ${share}: too coarse to tell. Measure the longest line of known length that is printed, and type its length above.`,
  printAcross: (sheet: number) => `Sheet ${sheet}: across`,
  printUp: (sheet: number) => `Sheet ${sheet}: up`,
  printTrue: 'True to size.',
  printOff: (across: string, up: string) =>
    across === up ? `${across} of true size.` : `${across} of true size across, ${up} up.`,
  printMore: 'One more sheet',
  printAllTrue: 'The print is true to size, as far as measured.',
  printOdd: (sheets: readonly number[]) =>
    `${sheets.length === 1 ? 'Sheet' : 'Sheets'} ${sheets.join(', ')} came out at another size than the others: print ${sheets.length === 1 ? 'it' : 'them'} again.`,
  printOddTrue: (sheets: readonly number[]) =>
    `Only ${sheets.length === 1 ? 'sheet' : 'sheets'} ${sheets.join(', ')} came out true to size.`,
  printFit: (from: string, to: string) =>
    `That is what comes of fitting a page made for ${from} to ${to}: choose “actual size” (100 %) when printing.`,
  printLongest: (longest: string, off: string, isShort: boolean) =>
    `The longest piece, ${longest}, would come out ${off} too ${isShort ? 'short' : 'long'}.`,
  printAgain: (across: string, up: string) =>
    across === up
      ? `Print again: at 100 % if it was fitted to the page, else at ${across} of the scale it was printed at.`
      : `No single scale puts it right (${across} across, ${up} up): print on another printer, or let a copy shop do it.`,
  printTraced: 'What was traced from this print is as far off.',
  printCorrect: (across: string, up: string) =>
    across === up
      ? `Correct what was traced to ${across}`
      : `Correct what was traced to ${across} across, ${up} up`,
  printAllowance: 'Another scale also changes the seam allowance that is drawn in the pattern.',
  offSize: (file: string, off: string) => `Not true to size: by its test square ${file} is ${off}.`,
  offCorrect: (count: number) =>
    count === 1 ? 'Correct it by the test square' : `Correct its ${count} pieces`,
  offLeave: 'Leave the size as it is',
  offAllowance: 'Correcting also changes the seam allowance that is drawn in the pattern.',
  scaleHelp:
    'If you know the true length of something drawn, choose it here and type what it measures in truth.',
  scaleOf: 'Of',
  scaleWhat: 'the measure',
  measures: {
    width: 'width',
    height: 'height',
    edge: 'longest edge',
    outerWidth: 'width to the outer edge of the line',
    outerHeight: 'height to the outer edge of the line',
  },
  scaleTrue: 'is in truth',
  scaleTooFar: 'That would change the size more than a thousandfold.',
  scaleReset: 'Back to the size in the file',
  scaleFactor: (percent: string) => `Everything is now ${percent} of the size in the file.`,
  guess: (dpi: number) => `Read it as ${dpi} dots an inch`,
  unitAsk: 'One unit in the file is one',
  units: { mm: 'millimetre', cm: 'centimetre', m: 'metre', in: 'inch' },
  parts: 'Layers and pages',
  layers: 'Read these layers',
  pages: 'Read these pages',
  pageOf: (page: number, outlines: number) => `Page ${page} (${many(outlines, 'outline')})`,
  partsHelp:
    'Often each size is a layer of its own. What is not ticked is left out; choose before you take outlines.',
  readingPage: (done: number, of: number) => `Page ${done} of ${of}`,
  sheets: 'Sheets of one drawing',
  sheetsHelp:
    'Is this one drawing cut up to print at home? Then its pages can be put together here, without tape: by their frames, or by the lines that go on from page to page.',
  sheetsFind: 'Put the sheets together',
  sheetsUnfound:
    'No lines were found that go on from page to page. If the pages belong together, type how they lie and what of each page counts.',
  sheetsTogether: (count: number, met: number, whole: number) => {
    const lines =
      whole > 0 && met === 0 ? '' : `; ${many(met, 'line')} ${met === 1 ? 'goes' : 'go'} on across the edges`;
    const uncut = whole > 0 ? `; ${many(whole, 'line')} taken whole from one page` : '';
    return `${many(count, 'sheet')} put together${lines}${uncut}`;
  },
  sheetsMeet: 'Every line that is cut at the edge of a sheet goes on upon the next.',
  sheetsLoose: (count: number) =>
    `${many(count, 'line')} cut at the edge of a sheet ${count === 1 ? 'meets' : 'meet'} nothing on the next. Compare the map with the one in the pattern.`,
  sheetsGap: (gap: string) => `Ends up to ${gap} apart were brought together.`,
  sheetsMap: 'Map of the sheets',
  sheetsMapHelp: 'Numbers of the pages, one row of sheets a line, the top row first; – for a gap.',
  sheetsWide: 'Width used of a page',
  sheetsTall: 'Height used',
  sheetsLeft: 'Left of it',
  sheetsBottom: 'Below it',
  sheetsOverlap: 'Strip to glue',
  sheetsTooSmall: 'What is used of a page must be larger than twice the strip to glue.',
  sheetsLay: 'Lay the sheets so',
  sheetsApart: 'Take the pages apart',
  board: 'Lay the sheets by hand',
  boardTitle: 'Sheets to be laid beside each other',
  boardHelp:
    'Drag each sheet to its neighbours: it catches where cut lines go on, on marks and on edges (not with Alt held). By keyboard: Tab to a sheet, arrow keys move it by 1 mm, with Shift by 10, with Alt by 0.1; Enter lets it catch.',
  boardSheet: (page: number, left: string, below: string) =>
    `Sheet ${page}, ${left} from the left, ${below} from below`,
  boardNone: 'Choose a sheet.',
  boardChosen: (page: number) => `Sheet ${page} is chosen.`,
  boardByLines: (page: number, met: number) =>
    `Sheet ${page}: ${many(met, 'line')} ${met === 1 ? 'goes' : 'go'} on.`,
  boardByMarks: (page: number, met: number) =>
    `Sheet ${page} lies on its neighbour’s marks; ${many(met, 'line')} ${met === 1 ? 'goes' : 'go'} on.`,
  boardByEdges: (page: number, met: number) =>
    `Sheet ${page} lies along an edge; ${many(met, 'line')} ${met === 1 ? 'goes' : 'go'} on.`,
  boardFree: (page: number, met: number) =>
    `Sheet ${page} lies free; ${many(met, 'line')} ${met === 1 ? 'goes' : 'go'} on.`,
  boardLeft: (page: number) => `Sheet ${page}: from the left`,
  boardBelow: 'From below',
  boardCatch: 'Let it catch',
  boardOut: (page: number) => `Leave sheet ${page} out`,
  boardBack: (page: number) => `Put sheet ${page} back`,
  boardWindow: 'What of each page counts',
  boardLay: 'Put them together so',
  boardUndo: 'Undo the last move',
  photoPicture: 'The photo',
  photoBroken: 'This picture can’t be shown. Save it as JPEG or PNG.',
  photoCorners:
    'Drag the four corners onto the corners of the sheet, the first onto its upper left; or press one, and then its place. Zoom in to be exact.',
  photoCatch: 'Points come onto corners and edges that are seen near them',
  photoClick:
    'Click the corners of the outline, one after the other all the way round; drag any that is off.',
  photoKnown: 'What lies beside it',
  photoSheets: {
    a4: 'A sheet of A4',
    a3: 'A sheet of A3',
    letter: 'A sheet of Letter',
    other: 'Something else',
  },
  photoWide: 'Its width',
  photoTall: 'Its height',
  photoTurned: 'It lies on its side in the photo (wider than tall)',
  photoAdd: 'Add a corner',
  photoUndo: 'Remove the last corner',
  photoPoints: (count: number) => `${many(count, 'corner')} set; at least three make an outline.`,
  photoCorner: (number: number) => `Corner ${number} of the sheet`,
  photoPoint: (number: number) => `Corner ${number} of the outline`,
  photoError: (error: string) => `off by ${error} at most if every corner is set to 2 pixels`,
  photoFar:
    'The outline is much larger than what it is measured by. Lay a larger sheet beside it, or check a length with a ruler.',
  photoLens:
    'Only what lies flat, level with the sheet, comes out true. Wide lenses bend lines towards the edge of the picture: stand back, and keep to its middle.',
  photoTake: 'Take this outline',
  pick: 'Take',
  pickAll: 'Take all on the page',
  pickNone: 'Take none',
  takeAs: (name: string) => `Take ${name} as a piece`,
  nameOf: (name: string) => `Name of ${name}`,
  count: 'How many',
  countOf: (name: string) => `How many of ${name}`,
  inside: 'inside it',
  insideAs: (name: string) => `What is ${name} inside the piece?`,
  as: {
    hole: 'a hole, cut out',
    sewLine: 'the sew line',
    internal: 'a line to draw',
    piece: 'a piece of its own',
    ignore: 'left out',
  },
  nothingLeft: (name: string) =>
    `Nothing sound is left of ${name} when what is marked as a hole is cut out of it: choose what it is otherwise.`,
  ground: 'Taken for the cloth or frame round the pieces in it; tick it if it is a piece.',
  laidOn: (count: number) => `Take what lies on them too (${count})`,
  laidOnHelp: 'Patches, pockets and webbing drawn where they are sewn on, as pieces of their own',
  mirrorSaid: (words: string) =>
    `The drawing says “${words}”. If only half the piece is drawn, choose its fold edge on the piece once it is added.`,
  mirroredOf: 'Mirror images',
  saidFrom: 'Cut from, as the drawing says',
  heaps: (count: number) => `${many(count, 'heap')} of outlines that touch: one piece drawn in parts?`,
  heap: (count: number, size: string) => `${count} outlines, ${size} together`,
  said: (words: string) => `The drawing says: “${words}”`,
  saidOf: (name: string) => `What is to be cut of ${name}`,
  saidMaterial: 'From',
  plain: 'As drawn',
  mirrored: 'Mirrored',
  onFold: 'On the fold',
  forgetRow: 'Leave this out',
  foldGuess:
    'The longest edge is taken for the fold. Look at it in the piece, and choose another there if it is wrong.',
  handsAsk: (count: number) => `${count} are to be cut. How?`,
  alikeAnswer: (count: number) => `${count} alike`,
  pairsAnswer: (count: number) =>
    count === 2
      ? 'One and its mirror image'
      : `${Math.ceil(count / 2)} and ${Math.floor(count / 2)} mirror images`,
  doubleAsk: '“Double” may mean two things here.',
  onceAnswer: (count: number) => `${count} in all, from doubled cloth or not`,
  twiceAnswer: (count: number) => `${count} in all: each with its mirror image`,
  usualNames: {
    main: 'Main fabric',
    contrast: 'Contrast',
    lining: 'Lining',
    interfacing: 'Interfacing',
    foam: 'Foam',
  },
  openQuestions: (count: number) =>
    `${many(count, 'question')} about what is to be cut ${count === 1 ? 'is' : 'are'} still open; see the list.`,
  alike: (count: number, mirrored: number) =>
    mirrored === 0
      ? `${count} alike in the drawing`
      : `${count} alike in the drawing, ${mirrored} of them as a mirror image`,
  takeAlike: (count: number) => `One piece, cut ${count}`,
  splitAlike: 'Only this one',
  join: 'Join into one',
  joinHelp: 'For a piece drawn in parts that touch',
  joinedStrips: 'strips of allowance round the finished shape',
  takeApart: 'Take apart',
  joinedOf: (parts: number) => `joined from ${parts} outlines`,
  cannotJoin: 'These outlines don’t make one shape: they don’t all touch.',
  added: (count: number) => `${many(count, 'piece')} added.`,
  tooSlow: 'Reading took too long and was given up. Does the drawing hold far more than the pattern?',
  broken: 'Reading broke off. The drawing is built in a way this program cannot follow.',
  material: 'Material for these pieces',
  add: (count: number) => (count === 0 ? 'Choose outlines first' : `Add ${many(count, 'piece')}`),
  offPage: 'off the page',
  partlyOff: 'partly off the page',
  warnings: 'What was noticed while reading',
  refused: 'Can’t be used',
  refusedCount: (count: number) => `${many(count, 'outline')} can’t be used`,
  password: 'Password of the file',
  unlock: 'Open it',
  /** What reading noticed, by its kind. */
  noticedBy: {
    hidden: 'Hidden parts were left out.',
    invisible: 'Shapes of which nothing can be seen were left out.',
    script: 'The file contains a script. It was ignored; nothing of it was run.',
    external: 'The file refers to other files or addresses. They were ignored.',
    picture: 'The file contains pictures. Only drawn lines are read, not pictures.',
    clip: 'Lines that are shown only in part were read whole.',
    entities: 'Text abbreviations in the file were kept as written.',
    'bad-path': 'A damaged line was read as far as it goes.',
    'bad-number': 'A part with impossible numbers was left out.',
    'bad-transform': 'A shift or turn in the file is not understood; something may stand in the wrong place.',
    'clone-cycle': 'A part that contains itself was left out.',
    'clone-missing': 'The file refers to a part that is not there; it was left out.',
    tiny: 'Specks without any width were left out.',
    crossing: 'An outline crosses itself; it was mended by following its outer edge.',
    refused: 'An outline was not used.',
    open: 'Open lines enclose nothing and are no pieces.',
    'off-page': 'Something lies outside the page.',
    'uneven-scale':
      'The file stretches the drawing differently across and up. Check a known length in both directions.',
    'not-understood': 'Some parts of the file are not understood and were left out.',
    limit: 'The file holds more of something than any pattern needs; not all of it was read.',
    'no-outlines': 'No closed outline was found in the drawing, so there is nothing to cut yet.',
    layer: 'A layer that is switched off in the file was left out.',
    pages: 'Something is to be said of the pages: compare them with the pattern.',
    approximated: 'A curve is stored by single points; between them it may differ a little.',
  } as Readonly<Record<ReadingWarning['code'], string>>,
  noticed: (what: string, parts: readonly string[]) =>
    parts.length === 0 ? what : `${what} (${parts.join(', ')})`,
  noOutlines: 'There is no closed outline in this drawing.',
  noOutlinesPicture:
    'A scan can be traced: save the page as a JPEG or PNG, and bring it in as a photo with the test square or the sheet as its measure.',
  noOutlinesWay:
    'Look at the layers and notes beside the drawing: the pattern may stand on a layer that is switched off, or its lines may not meet.',
  hiddenSmall: (count: number) => `${many(count, 'small outline')} not shown`,
  showSmall: 'Show them',
};
