/** English words for why a drawing, or an outline in it, can't be used, and what was mended. Whole sentences. */
export const readingEn = {
  empty: 'The file is empty. Copy or download it again, and choose the new copy.',
  tooLarge: (megabytes: number) =>
    `The file is larger than ${megabytes} MB, which is more than a pattern drawing should be. Save the pages with the pattern alone.`,
  packedDamaged:
    'The file is packed, and damaged or cut off. Copy or download it again, and choose the new copy.',
  packedTooMuch: 'The file swells beyond all measure when it is unpacked; that is too much for a pattern.',
  archive: 'This is an archive, whatever it is called. Unpack it and choose the drawing in it.',
  dwg: 'This is a DWG. Save it as DXF in the program it comes from, and choose that.',
  picture: 'This is a picture, not a drawing. Save it as JPEG or PNG, and trace it as a photo.',
  postScript: 'This is PostScript. Save it as PDF in the program it comes from, and choose that.',
  office: 'This is an office document. Save it as PDF in the program it comes from, and choose that.',
  neither:
    'This is neither an SVG, a DXF nor a PDF drawing. Save the pattern as one of these in the program it comes from.',
  cannotFollow:
    'The drawing could not be read: it is built in a way this program cannot follow. Save it anew, as PDF or plain SVG.',
  tooManyLines:
    'The drawing holds more lines than one pattern may have. Save the pattern alone, without pictures and textures, and read that.',
  tooManyElements: (most: number) =>
    `The file holds more than ${most} elements; that is too much for one pattern. Save the pattern alone and read that.`,
  tooManyOutlines: (most: number) =>
    `The drawing holds more than ${most} closed outlines; that is too much for one pattern. Save the pattern alone and read that.`,
  tooManyClones: (most: number) =>
    `Clones of clones in the file make more than ${most} elements; that is too much for one pattern.`,
  tooDeep: (most: number) =>
    `The file nests elements more than ${most} deep; that is no pattern. Save it as plain SVG and read that.`,
  entitiesSwell:
    'The file would swell beyond all measure when its text abbreviations (entities) are expanded.',
  svgPacked: 'The file is a compressed SVG (svgz). Save it as a plain SVG and read that.',
  pdfNotSvg: 'This is a PDF, not an SVG drawing.',
  notSvg:
    'This is not an SVG drawing: it does not start like one. Save the pattern as SVG, DXF or PDF in the program it comes from.',
  noSvgElement:
    'This is not an SVG drawing: no drawing element was found in it. Save the pattern as SVG, DXF or PDF in the program it comes from.',
  otherElement: (name: string) =>
    `This is not an SVG drawing: its outermost element is <${name}>. Choose the drawing itself, not a page that shows it.`,
  svgCutOff: 'The file is cut off: its end is missing. Save or download it again.',
  /** `what` is the parser's own remark, in English. */
  svgDamaged: (line: string, what: string) =>
    `The file is damaged in line ${line} (${what}). Save it again from the drawing program.`,
  binaryDxf: 'This is a binary DXF. Save it as a text (ASCII) DXF and read that.',
  pdfNotDxf: 'This is a PDF, not a DXF drawing.',
  noSections:
    'This is not a DXF drawing: it has no sections. Save the pattern as SVG, DXF or PDF in the program it comes from.',
  notDxf:
    'This is not a DXF drawing: it does not start like one. Save the pattern as SVG, DXF or PDF in the program it comes from.',
  dxfDamaged: (line: number) =>
    `The DXF file is damaged in line ${line}: a group code is missing there. Save or download it again.`,
  dxfTooMuch: 'The DXF file holds more data than one pattern may have. Save the pattern alone and read that.',
  dxfCutOff: 'The DXF file is cut off: its end is missing. Save or download it again.',
  blocksTooDeep:
    'Blocks within blocks go too deep for a pattern. Break them up in the program they come from, and read that.',
  tooManyPieces: (most: number) => `The file holds more than ${most} pieces. Save fewer and read those.`,
  notPdf: 'This is not a PDF: it does not start like one.',
  pdfSwells: 'The PDF swells beyond all measure when it is unpacked; that is too much for a pattern.',
  pdfStopped: 'The reading was stopped.',
  pdfDamaged:
    'The PDF is damaged or cut off and cannot be read. Copy or download it again, and choose the new copy.',
  pdfLocked: 'The PDF is locked with a password. Type it, or save the PDF without one in a PDF program.',
  pdfWrongPassword: 'The password does not open this PDF.',
  noSuchPages: 'None of the pages asked for is in the PDF.',

  /** What became of an outline. */
  gapClosed: (mm: string) => `Its ends lie ${mm} mm apart and were joined.`,
  halvesJoined: (lines: number) =>
    `It was drawn as ${lines} open lines that touch and was joined into one outline.`,
  fillClosed: 'Its line is open but its area is filled, so it was closed with a straight line.',
  crossingMended: 'Its line crosses itself; it was mended by following its outer edge.',
  touchMended: 'Its line touches or doubles back on itself; it was mended by following its outer edge.',

  /** Why an outline was not used: put into `notUsed`. */
  notUsed: (name: string, why: string) => `The outline "${name}" ${why}; it was not used.`,
  isHuge: (metres: number) => `is larger than ${metres} m`,
  isTangled: (crossings: number) => `crosses itself more than ${crossings} times`,
  isIntricate: 'is too intricate to tell whether it crosses itself',
  holdsNothing: 'runs back on itself and encloses nothing',
  fallsApart: (parts: number, sizes: string) =>
    `crosses itself and falls into ${parts} parts (${sizes}), so it is not clear what is to be cut`,
  isUnmendable: 'crosses itself in a way that could not be mended',
  hasManyCorners: (most: number) => `has more than ${most} corners`,

  /** Why the size is doubted. */
  dpiUnknown:
    'The file does not say how large it is. It was read at 96 dots per inch, but may have been drawn at 90 or 72: check a length you know.',
  dpiLikely: (dpi: number) =>
    `The file does not say how large it is. It was read at 96 dots per inch, but the program that wrote it drew at ${dpi}: check a length you know.`,
  unitNames: { mm: 'millimetres', cm: 'centimetres', m: 'metres', in: 'inches' },
  unitUnknown: (unit: string, isHinted: boolean) =>
    `The file does not say in which unit it was drawn. It was read as ${unit}${
      isHinted ? ', which a note in it hints at' : ''
    }: check a length you know.`,

  /** Why an outline can't be made a piece. */
  manyHoles: (most: number, picked: number) => `A piece can have at most ${most} holes (${picked} picked).`,
  manyMarks: (most: number) => `A piece can have at most ${most} lines drawn on it.`,
  holeOutside: (hole: string, outline: string) =>
    `The hole "${hole}" does not lie inside the outline "${outline}".`,
};

export type ReadingWords = typeof readingEn;
