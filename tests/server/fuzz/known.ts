import { demoProject } from '../../../pattern/demo/demoProject.ts';
import { singleLayer } from '../../plan/sampleLays.ts';
import type { Known } from './requests.ts';

interface Send {
  readonly send: <Body>(method: string, path: string, body?: unknown) => Promise<{ readonly body: Body }>;
}

/** Puts into a new server what requests can be about: projects with revisions and plans, a binned one, cloth on the shelf. */
export async function furnish({ send }: Send, url: string, layId: string): Promise<Known> {
  const sample = singleLayer();
  const plan = { id: 'now.canvas', name: 'Canvas', createdAt: '', madeFrom: '', results: [sample.lay] };
  const projects = [demoProject(), { ...sample.project, plans: [plan] }, demoProject()];
  const ids: string[] = [];
  for (const project of projects) {
    const { body } = await send<{ id: string }>('POST', '/api/projects', { project });
    ids.push(body.id);
  }
  await send('PUT', `/api/projects/${ids[0]}`, {
    revision: 1,
    project: { ...demoProject(), name: 'Changed' },
  });
  await send('DELETE', `/api/projects/${ids[2]}`);
  const outline = [
    [0, 0],
    [300, 0],
    [300, 200],
  ];
  const cloth = { kind: 'remnant', id: 'r', name: 'Olive', materialId: 'shelf', outline };
  await send('POST', '/api/shelf/changes', { kind: 'put', items: [{ id: 'r', cloth }] });
  const backup = await fetch(`${url}/api/backup`);
  return {
    ids: {
      id: ids,
      lay: [layId],
      revision: ['1', '2'],
      number: ['1'],
      entry: ['r'],
      material: [sample.lay.materialId],
      cloth: [sample.lay.clothId],
      spread: [sample.lay.spread],
    },
    bytes: new Uint8Array(await backup.arrayBuffer()),
  };
}
