import type { LayState } from '../../../pattern/exchange/lay.ts';
import type { Project } from '../../../pattern/exchange/project.ts';
import type { Chance } from './chance.ts';

/** What was asked, by how it is judged: quick answers people wait for, files to print, lays. */
export type Kind = 'read' | 'write' | 'file' | 'lay';

export interface Measured {
  readonly kind: Kind;
  readonly what: string;
  readonly ms: number;
}

export interface LayTimes {
  /** From asking to the first layout, and to the end, ms. */
  readonly firstMs: number;
  readonly wholeMs: number;
  readonly events: number;
}

/** Everything the clients saw together. */
export interface Seen {
  readonly requests: Measured[];
  readonly lays: LayTimes[];
  readonly errors: string[];
}

const FILES = [
  'pieces.pdf?page=a1',
  'labels.pdf',
  'ticks.pdf',
  'cutlist.csv',
  'pieces.dxf',
  'pieces-projector.pdf',
] as const;

/** A page in a browser of its own: signed in, with a project that it changes, looks at and prints. */
export class LoadClient {
  readonly #url: string;
  readonly #chance: Chance;
  readonly #seen: Seen;
  readonly #headers: Record<string, string> = { 'x-clothlay': '1' };
  #project: Project;
  #id = '';
  #revision = 0;

  constructor(url: string, project: Project, chance: Chance, seen: Seen) {
    this.#url = url;
    this.#project = project;
    this.#chance = chance;
    this.#seen = seen;
  }

  /** Signs in and stores the project. */
  async begin(password: string): Promise<void> {
    const answer = await fetch(`${this.#url}/api/session`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ secret: password }),
    });
    if (answer.status !== 204) throw new Error(`signing in was answered ${answer.status}`);
    this.#headers.cookie = answer.headers.get('set-cookie')!.split(';')[0]!;
    const stored = await this.#send<{ id: string; revision: number }>(
      'write',
      'create',
      'POST',
      '/api/projects',
      {
        project: this.#project,
      },
    );
    this.#id = stored!.id;
    this.#revision = stored!.revision;
  }

  /** Works until told to stop: a request every second or so, as someone who edits without a break. */
  async work(isOver: () => boolean): Promise<void> {
    while (!isOver()) {
      await pause(300 + 1_400 * this.#chance());
      await this.#step();
    }
  }

  /** Asks for one lay after the other, all alike, and follows each to its end. */
  async layAgainAndAgain(project: Project, seconds: number, isOver: () => boolean): Promise<void> {
    for (let seed = 1; !isOver(); seed++) await this.lay(project, seconds, seed);
  }

  async lay(project: Project, seconds: number, seed: number): Promise<void> {
    const start = performance.now();
    const asked = await this.#send<{ id: string }>('lay', 'lay', 'POST', '/api/lays', {
      project,
      seconds,
      seed,
    });
    if (asked === undefined) {
      await pause(1_000);
      return;
    }
    const address = `${this.#url}/api/lays/${asked.id}/events`;
    try {
      const stream = await fetch(address, { headers: this.#headers });
      let [text, events, firstMs] = ['', 0, Number.NaN];
      let last: LayState | undefined;
      for await (const chunk of stream.body!.pipeThrough(new TextDecoderStream())) {
        text += chunk;
        const parts = text.split('\n\n');
        text = parts.pop()!;
        for (const part of parts) {
          const data = /^data: (.*)$/m.exec(part)?.[1];
          if (data === undefined) continue;
          events++;
          last = JSON.parse(data) as LayState;
          if (Number.isNaN(firstMs) && last.results.length > 0) firstMs = performance.now() - start;
        }
      }
      const fits = last?.state === 'done' && last.results.every(({ verdict }) => verdict === 'fits');
      if (!fits) this.#fault(`a lay ended ${last?.state}, ${last?.error ?? last?.results[0]?.verdict}`);
      else this.#seen.lays.push({ firstMs, wholeMs: performance.now() - start, events });
    } catch (error) {
      this.#fault(`a lay's events broke off: ${error}`);
    }
  }

  async #step(): Promise<void> {
    const address = `/api/projects/${this.#id}`;
    const draw = this.#chance();
    if (draw < 0.4) await this.#save(address);
    else if (draw < 0.55) await this.#send('read', 'project', 'GET', address);
    else if (draw < 0.65) await this.#send('read', 'list', 'GET', '/api/projects');
    else if (draw < 0.72) await this.#send('read', 'revisions', 'GET', `${address}/revisions`);
    else if (draw < 0.8) await this.#send('read', 'shelf', 'GET', '/api/shelf');
    else if (draw < 0.88) await this.#send('read', 'health', 'GET', '/api/health');
    else if (draw < 0.95) await this.#send('read', 'page', 'GET', '/');
    else if (draw < 0.98) await this.#send('read', 'bin', 'GET', '/api/bin');
    else {
      const file = FILES[Math.floor(this.#chance() * FILES.length)]!;
      await this.#send('file', file.split('?')[0]!, 'GET', `${address}/${file}`);
    }
  }

  /** One piece is given another name: a change as the page's autosave sends it, whole project and all. */
  async #save(address: string): Promise<void> {
    const pieces = this.#project.pieces.map((piece, place) =>
      place === 0 ? { ...piece, name: `Panel ${this.#revision}` } : piece,
    );
    this.#project = { ...this.#project, pieces };
    const body = { revision: this.#revision, project: this.#project };
    const stored = await this.#send<{ revision: number }>('write', 'save', 'PUT', address, body);
    if (stored !== undefined) this.#revision = stored.revision;
  }

  /** The answer's body; undefined after a fault, which is noted. */
  async #send<Body>(
    kind: Kind,
    what: string,
    method: string,
    path: string,
    body?: unknown,
  ): Promise<Body | undefined> {
    const sent = body === undefined ? undefined : JSON.stringify(body);
    const start = performance.now();
    try {
      const answer = await fetch(this.#url + path, {
        method,
        headers:
          sent === undefined ? this.#headers : { ...this.#headers, 'content-type': 'application/json' },
        ...(sent === undefined ? {} : { body: sent }),
      });
      const bytes = Buffer.from(await answer.arrayBuffer());
      this.#seen.requests.push({ kind, what, ms: performance.now() - start });
      if (!answer.ok) {
        this.#fault(`${method} ${what}: ${answer.status} ${bytes.toString().slice(0, 200)}`);
        return undefined;
      }
      return /json/.test(answer.headers.get('content-type') ?? '') ? JSON.parse(bytes.toString()) : undefined;
    } catch (error) {
      this.#fault(`${method} ${what}: ${(error as Error).cause ?? error}`);
      return undefined;
    }
  }

  #fault(text: string): void {
    this.#seen.errors.push(text);
  }
}

function pause(ms: number): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, ms));
}
