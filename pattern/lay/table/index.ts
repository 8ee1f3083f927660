/** The designer's table: many lays of one pattern, each on a cloth that is another in one thing. */
export { cellOf, cellWork, tableKeys, tableMaterials } from './cells.ts';
export { type LayOnce, runTable, settled, type TableRun } from './runTable.ts';
