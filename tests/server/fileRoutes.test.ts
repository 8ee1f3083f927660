import { describe, expect, it } from 'vitest';
import { demoProject } from '../../pattern/demo/demoProject.ts';
import type { Project } from '../../pattern/exchange/project.ts';
import { singleLayer, twoSegments } from '../plan/sampleLays.ts';
import { startServer } from './harness.ts';

type Server = Awaited<ReturnType<typeof startServer>>;

async function stored(project: Project): Promise<Server & { path: string }> {
  const server = await startServer();
  const { body } = await server.send<{ id: string }>('POST', '/api/projects', { project });
  return { ...server, path: `/api/projects/${body.id}` };
}

/** A server with a lay that has results for two spreads of its cloth. */
async function laid(): Promise<Server & { path: string }> {
  const { lay, project } = singleLayer();
  const server = await startServer();
  const { body } = await server.send<{ id: string }>('POST', '/api/lays', { project });
  const run = await server.engine.started(0);
  run.report({ notices: [], results: [lay, { ...lay, spread: 'folded' }] });
  return { ...server, path: `/api/lays/${body.id}` };
}

/** The bytes of an answer with its headers. */
async function fetchFile(url: string) {
  const response = await fetch(url);
  return { response, bytes: Buffer.from(await response.arrayBuffer()) };
}

describe('files of a project', () => {
  it('are served under a name of their own, shown or saved as asked', async () => {
    const { url, path } = await stored({ ...demoProject(), name: 'Rouleau « été »\u0000 \r\nX: y' });
    for (const [file, type, start] of [
      ['pieces.pdf', 'application/pdf', '%PDF-1.7'],
      ['labels.pdf', 'application/pdf', '%PDF-1.7'],
      ['pieces.dxf', 'image/vnd.dxf', '0\r\nSECTION'],
      ['cutlist.csv', 'text/csv; charset=utf-8; header=present', '\ufeffpiece,material,'],
      ['cutlist.json', 'application/json; charset=utf-8', '{"rows":['],
    ] as const) {
      const { response, bytes } = await fetchFile(`${url}${path}/${file}?download=1`);
      expect(response.status, file).toBe(200);
      expect(response.headers.get('content-type')).toBe(type);
      expect(bytes.toString('utf8').startsWith(start), file).toBe(true);
      expect(response.headers.get('content-disposition')).toMatch(
        /^attachment; filename="Rouleau-e-te-X-y-[a-z-]+\.(pdf|dxf|csv|json)"$/,
      );
      expect(response.headers.get('content-security-policy')).toMatch(/^default-src 'none'/);
      const shown = await fetchFile(`${url}${path}/${file}`);
      expect(shown.response.headers.get('content-disposition')).toMatch(/^inline;/);
    }
  });

  it('are refused in words that say what to do', async () => {
    const { send, path } = await stored(demoProject());
    const detail = async (query: string) => {
      const { status, body } = await send('GET', `${path}/${query}`);
      return `${status} ${body.detail}`;
    };
    expect(await detail('labels.pdf?rows=60')).toMatch(/^422 This sheet holds no label: .*Take fewer rows/);
    expect(await detail('labels.pdf?marginX=110')).toMatch(/^422 .*no room at all/);
    expect(await detail('labels.pdf?material=felt')).toBe('422 The cut list asks for nothing to label.');
    expect(await detail('pieces.pdf?margin=120')).toMatch(/^422 Margins of 120 mm leave too little of A4/);
    expect(await detail('pieces.pdf?margin=3000')).toMatch(
      /^422 Margins of 3,?000 mm leave too little of A4/,
    );
    expect(await detail('pieces.pdf?page=roll&roll=50')).toMatch(/^422 Paper from a roll is 100 to 5080 mm/);
    expect(await detail('labels.pdf?marginX=3000')).toMatch(/^422 .*no room at all/);
    expect(await detail('pieces.pdf?margin=2')).toMatch(/^422 A margin of 2 mm is too small/);
    expect(await detail('pieces.pdf?overlap=100')).toMatch(/^422 Sheets of A4 can overlap by 0 to 95 mm/);
    expect(await detail('pieces.pdf?piece=sleeve')).toBe('404 The project has no piece with this id.');
    for (const query of [
      'labels.pdf?rows=0',
      'labels.pdf?rows=two',
      'pieces.pdf?page=foolscap',
      'pieces.pdf?margin=NaN',
    ]) {
      expect((await send('GET', `${path}/${query}`)).status, query).toBe(400);
    }
  });

  it('leave out what is faulty and say so; a faulty piece alone is refused with its fault', async () => {
    const bowTie = [
      [0, 0],
      [100, 100],
      [100, 0],
      [0, 100],
    ] as const;
    const demo = demoProject();
    const pieces = demo.pieces.map((piece) => (piece.id === 'strap' ? { ...piece, outline: bowTie } : piece));
    const { send, path } = await stored({ ...demo, pieces });
    expect((await send('GET', `${path}/pieces.pdf`)).status).toBe(200);
    const dxf = await send<string>('GET', `${path}/pieces.dxf`);
    expect(dxf.body).toContain('Not in this file because of its faults: Lashing strap');
    const alone = await send('GET', `${path}/pieces.pdf?piece=strap`);
    expect(alone.status).toBe(422);
    expect(alone.body.detail).toMatch(/^Lashing strap: /);
    const none = await stored({ ...demo, pieces: [], cutList: [], layChoices: [] });
    expect((await none.send('GET', `${none.path}/pieces.dxf`)).body.detail).toBe(
      'The project has no pieces yet.',
    );
  });
});

describe('files of a lay', () => {
  it('are of one layout a cloth, the cheapest, or of the way to spread it that is asked for', async () => {
    const { url, send, path } = await laid();
    const rows = async (query: string) =>
      (await send<{ rows: Record<string, unknown>[] }>('GET', `${path}/${query}`)).body.rows;
    expect((await rows('consumption.json')).map((row) => row.spread)).toEqual(['single', 'folded']);
    expect((await rows('consumption.json?spread=folded')).map((row) => row.spread)).toEqual(['folded']);
    expect(await rows('positions.json?spread=folded')).toHaveLength(23 * 4);
    expect((await rows('positions.json')).map((row) => row.spread)).toEqual(Array(23 * 4).fill('single'));
    expect(new Set((await rows('cutting.json')).map((row) => row.spread))).toEqual(new Set(['single']));
    for (const file of ['plan.pdf', 'full.pdf', 'projector.pdf', 'layout.dxf']) {
      const [one, chosen] = [
        await fetchFile(`${url}${path}/${file}`),
        await fetchFile(`${url}${path}/${file}?spread=single`),
      ];
      expect(one.bytes.length).toBeGreaterThan(1000);
      expect(one.bytes.equals(chosen.bytes), file).toBe(true);
    }
    expect((await send('GET', `${path}/positions.json?cloth=other`)).status).toBe(404);
    expect((await send('GET', `${path}/plan.pdf?page=fit`)).status).toBe(400);
  });

  it('are the same bytes each time', async () => {
    const { url, path } = await laid();
    for (const file of ['plan.pdf?page=letter&units=in', 'layout.dxf', 'positions.csv']) {
      const [one, other] = [
        await fetchFile(`${url}${path}/${file}`),
        await fetchFile(`${url}${path}/${file}`),
      ];
      expect(one.bytes.length).toBeGreaterThan(1000);
      expect(one.bytes.equals(other.bytes)).toBe(true);
    }
  });

  it('are not there before the first layout', async () => {
    const server = await startServer();
    const { body } = await server.send<{ id: string }>('POST', '/api/lays', {
      project: twoSegments().project,
    });
    const answer = await server.send('GET', `/api/lays/${body.id}/plan.pdf`);
    expect([answer.status, answer.body.detail]).toEqual([404, 'There is no layout for this cloth yet.']);
  });
});

describe('files of the plans that a project holds', () => {
  const plans = (lay: ReturnType<typeof singleLayer>['lay']) => [
    {
      id: 'now.main',
      name: 'Latest',
      createdAt: '',
      madeFrom: '',
      results: [lay, { ...lay, clothId: 'gone' }],
    },
    {
      id: 'kept',
      name: 'Kept',
      createdAt: '',
      madeFrom: '',
      results: [{ ...lay, spread: 'folded' as const }],
    },
  ];

  it('are those of the lay itself, byte for byte, without the lay', async () => {
    const { lay, project } = singleLayer();
    const held = await stored({ ...project, plans: plans(lay) });
    const live = await laid();
    for (const file of ['plan.pdf', 'positions.csv', 'layout.dxf', 'full.pdf']) {
      const [one, other] = [
        await fetchFile(`${held.url}${held.path}/${file}?spread=single`),
        await fetchFile(`${live.url}${live.path}/${file}?spread=single`),
      ];
      expect([one.response.status, one.bytes.length > 1000], file).toEqual([200, true]);
      expect(one.bytes.equals(other.bytes), file).toBe(true);
    }
  });

  it('are the latest layouts of cloths that are still there, or those of the kept plan named', async () => {
    const { lay, project } = singleLayer();
    const { send, path } = await stored({ ...project, plans: plans(lay) });
    const spreads = async (query: string) =>
      (
        await send<{ rows: Record<string, unknown>[] }>('GET', `${path}/consumption.json${query}`)
      ).body.rows?.map((row) => row.spread);
    expect(await spreads('')).toEqual(['single']);
    expect(await spreads('?plan=kept')).toEqual(['folded']);
    const none = await send('GET', `${path}/plan.pdf?plan=other`);
    expect([none.status, none.body.detail]).toEqual([
      404,
      'The project holds no such layout: lay it out first.',
    ]);
  });
});
