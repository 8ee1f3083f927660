/** Bounds on what one drawing may hold, so that no file can take more than bounded time and memory. */
export const READING_LIMITS = {
  /** Characters in the file. */
  characters: 40_000_000,
  /** Bytes of a PDF: its pictures count, though they are not read. */
  pdfBytes: 200_000_000,
  /** What a PDF's packed content, pictures aside, may come to. */
  pdfUnpackedBytes: 200_000_000,
  /** Operators of all pages of a PDF: what is drawn, what is hidden, and what says how. */
  pdfOperators: 1_000_000,
  elements: 200_000,
  /** Elements within elements. */
  nesting: 250,
  /** Clones of clones of … */
  cloneDepth: 40,
  /** Shapes drawn, each clone counted anew. */
  shapes: 200_000,
  /** Segments of all paths, each clone counted anew. */
  segments: 1_000_000,
  /** Points after curves were flattened. */
  points: 2_000_000,
  /** Points of one outline: what one piece of a project may have. */
  pointsPerOutline: 20_000,
  outlines: 10_000,
  /** Style rules in all `style` elements. */
  styleRules: 5_000,
  styleCharacters: 500_000,
  /** Elements visited, each clone counted anew. */
  visits: 400_000,
  entities: 100,
  entityLength: 1_000,
  /** Largest size of one outline: what one piece of a project may have. */
  sizeMm: 100_000,
  /** Group codes of a DXF file: 200 000 lines have some fourteen each. */
  dxfGroups: 4_000_000,
  /** Layers listed to choose from. */
  layers: 1_000,
  /** Pages of one file read in one go. */
  pages: 300,
  texts: 50_000,
  textsPerOutline: 12,
  textLength: 200,
  /** Warnings of one kind that are spelled out; the rest are counted. */
  warningsPerKind: 5,
} as const;

/** Curves are replaced by chords no farther from the true curve than this. */
export const FLATTENING_MM = 0.05;

/**
 * Ends of a line that lie no farther apart than this are taken to meet. Must exceed what drawing programs round
 * off (they write 4 to 6 digits: about 0.01 mm on metres) and stay under any gap drawn on purpose.
 */
export const CLOSING_MM = 0.1;

/** A PDF is flattened so many times finer, because its bytes are not kept to read it anew at a corrected size. */
export const PDF_SPARE = 2;
