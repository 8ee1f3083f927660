import { demoProject } from '../../../pattern/demo/demoProject.ts';
import { type Project, projectSchema } from '../../../pattern/exchange/project.ts';
import type { Chance } from './chance.ts';

/** A ring of `corners` points around the origin, some 50 to 300 mm across: curved edges as a drawing brings them. */
function outline(chance: Chance, corners: number): [number, number][] {
  const [wide, tall] = [40 + 220 * chance(), 40 + 160 * chance()];
  return Array.from({ length: corners }, (_, i) => {
    const angle = (2 * Math.PI * i) / corners;
    const dent = 1 - 0.25 * chance() ** 4;
    return [round(wide * dent * Math.cos(angle)), round(tall * dent * Math.sin(angle))];
  });
}

const round = (value: number): number => Math.round(value * 100) / 100;

/** A project with so many different pieces of so many corners, each cut twice, on one roll. */
export function projectOf(chance: Chance, name: string, pieces: number, corners: number): Project {
  return projectSchema.parse({
    format: 'clothlay-project',
    version: 2,
    name,
    pieces: Array.from({ length: pieces }, (_, i) => ({
      id: `p${i}`,
      name: `Panel ${i + 1}`,
      outline: outline(chance, corners),
    })),
    materials: [{ id: 'm', name: 'Canvas' }],
    cutList: Array.from({ length: pieces }, (_, i) => ({ pieceId: `p${i}`, materialId: 'm', plain: 2 })),
    cloths: [{ kind: 'roll', id: 'c', name: 'Canvas', materialId: 'm', widthMm: 1400, turn: 'quarter' }],
  });
}

/** What a workshop has: mostly small projects, some with many pieces, a few with very many. */
export function projectOfClient(chance: Chance, number: number): Project {
  const name = `Project ${number}`;
  if (number % 25 === 7) return projectOf(chance, name, 400, 60);
  if (number % 5 === 2) return projectOf(chance, name, 60, 40);
  return { ...demoProject(), name };
}
