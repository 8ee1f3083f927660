import { afterEach, describe, expect, it, vi } from 'vitest';
import { fetchProjectFile, nameIn } from '../../client/api/files.ts';
import { HttpProblem, Unreachable } from '../../client/api/http.ts';

afterEach(() => vi.unstubAllGlobals());

describe('files of a project', () => {
  it('are asked for by cloth, spread and plan, and take the name the server gives', async () => {
    const asked: string[] = [];
    vi.stubGlobal('fetch', async (address: string) => {
      asked.push(address);
      return new Response('%PDF', {
        headers: {
          'content-disposition': 'attachment; filename="Roll-plan.pdf"; filename*=UTF-8\'\'Roll.pdf',
        },
      });
    });
    const file = await fetchProjectFile('a b', 'plan.pdf', { cloth: 'c1', spread: 'folded', page: 'letter' });
    expect(asked).toEqual(['/api/projects/a%20b/plan.pdf?cloth=c1&spread=folded&page=letter&download=1']);
    expect([file.name, await file.content.text()]).toEqual(['Roll-plan.pdf', '%PDF']);
  });

  it('that can’t be made are told in the server’s words', async () => {
    vi.stubGlobal('fetch', async () =>
      Response.json(
        { type: 'about:blank', title: 'Not found', status: 404, detail: 'Lay it out first.' },
        { status: 404 },
      ),
    );
    await expect(fetchProjectFile('p', 'full.pdf', {})).rejects.toThrow(HttpProblem);
    await expect(fetchProjectFile('p', 'full.pdf', {})).rejects.toThrow('Lay it out first.');
    vi.stubGlobal('fetch', () => Promise.reject(new TypeError('refused')));
    await expect(fetchProjectFile('p', 'full.pdf', {})).rejects.toThrow(Unreachable);
  });

  it('have no name where the header gives none', () => {
    expect(nameIn(null)).toBeNull();
    expect(nameIn('inline')).toBeNull();
  });
});
