import { request as httpRequest } from 'node:http';
import { describe, expect, it } from 'vitest';
import { IDLE_MS, LONGEST_MS, randomSecret, Sessions } from '../../server/http/sessions.ts';
import { sampleProject, startServer } from './harness.ts';

const SECRET = 'two needles and a bobbin';

async function guarded(parts: Parameters<typeof startServer>[0] = {}) {
  let now = 0;
  const sessions = new Sessions(() => now);
  const server = await startServer({ access: { secret: SECRET, sessions }, ...parts });
  const signIn = async (secret = SECRET) => {
    const answer = await server.send('POST', '/api/session', { secret });
    const cookie = answer.headers.get('set-cookie')?.split(';')[0] ?? '';
    return { answer, cookie };
  };
  const pass = (ms: number) => {
    now += ms;
  };
  return { ...server, sessions, signIn, pass };
}

describe('a closed door', () => {
  it('shows the page and that it is alive to anyone, and nothing else', async () => {
    const { send, app } = await guarded();
    const open = ['get /api/health', 'get /api/session', 'post /api/session', 'delete /api/session'];
    // Asked of the router itself, so that no route can be forgotten.
    const routes = app.router.stack.flatMap(({ route }) => {
      if (route === undefined) return [];
      const methods = new Set(route.stack.map(({ method }) => method).filter((m) => m !== undefined));
      return [...methods].map((method) => [method, route.path] as const);
    });
    expect(routes.length).toBeGreaterThan(30);
    for (const [method, path] of routes) {
      if (open.includes(`${method} ${path}`)) continue;
      const address = path.replaceAll(/:\w+/g, 'x');
      for (const written of [address, address.toUpperCase(), `${address}/`]) {
        const { status } = await send(method.toUpperCase(), written);
        expect([401, 404], `${method} ${written}`).toContain(status);
        if (written === address) expect(status).toBe(401);
      }
    }
    expect((await send('GET', '/api/health')).body).not.toHaveProperty('version');
    expect((await send('GET', '/api/session')).body).toEqual({ required: true, signedIn: false });
    expect((await send('GET', '/api/projects')).headers.get('www-authenticate')).toContain('Bearer');
  });

  it('opens by a cookie that no script reads and no other site sends', async () => {
    const { send, signIn } = await guarded();
    const { answer, cookie } = await signIn();
    expect(answer.status).toBe(204);
    const facts = answer.headers.get('set-cookie')!.split('; ');
    expect(facts).toEqual(expect.arrayContaining(['HttpOnly', 'SameSite=Strict', 'Path=/']));
    expect(facts.some((fact) => fact.startsWith('Domain'))).toBe(false);
    expect((await send('GET', '/api/projects', undefined, { cookie })).status).toBe(200);
    expect((await send('GET', '/api/session', undefined, { cookie })).body).toEqual({
      required: true,
      signedIn: true,
    });
    expect((await send('GET', '/api/projects', undefined, { cookie: `${cookie}x` })).status).toBe(401);
  });

  it('is marked secure behind a proxy that speaks https, and the browser told to stay with it', async () => {
    const { send } = await guarded({ behindProxy: true });
    const headers = { 'x-forwarded-proto': 'https', 'x-forwarded-for': '192.0.2.4' };
    const answer = await send('POST', '/api/session', { secret: SECRET }, headers);
    expect(answer.headers.get('set-cookie')).toMatch(/^__Host-clothlay=.*; Secure/);
    expect(answer.headers.get('strict-transport-security')).toMatch(/^max-age=\d{8}/);
    const plain = await guarded();
    const direct = await plain.send('POST', '/api/session', { secret: SECRET }, headers);
    expect(direct.headers.get('set-cookie')).toMatch(/^clothlay=/);
    expect(direct.headers.get('strict-transport-security')).toBeNull();
  });

  it('takes a password as it is, to the last sign and however long', async () => {
    const secret = ` Zwirn & Nadel, 糸と針 🧵 ${'x'.repeat(300)} `;
    const { send } = await guarded({ access: { secret, sessions: new Sessions() } });
    const status = async (typed: string) => (await send('POST', '/api/session', { secret: typed })).status;
    for (const wrong of [secret.trim(), secret.slice(0, -1), secret.slice(0, 128), secret.toLowerCase()])
      expect(await status(wrong)).toBe(401);
    expect(await status(secret)).toBe(204);
  });

  it('takes writes of a cookie only with the header no other page can add', async () => {
    const { send, signIn, store } = await guarded();
    const { cookie } = await signIn();
    const body = { project: sampleProject() };
    expect((await send('POST', '/api/projects', body, { cookie })).status).toBe(403);
    expect(store.list()).toEqual([]);
    expect((await send('POST', '/api/projects', body, { cookie, 'x-clothlay': '1' })).status).toBe(201);
    const id = store.list()[0]!.id;
    expect((await send('DELETE', `/api/projects/${id}`, undefined, { cookie })).status).toBe(403);
    expect((await send('DELETE', '/api/session', undefined, { cookie })).status).toBe(403);
    const elsewhere = { cookie, 'x-clothlay': '1', origin: 'http://evil.example' };
    expect((await send('POST', '/api/projects', body, elsewhere)).status).toBe(403);
    expect(store.list()).toHaveLength(1);
  });

  it('lets programs in by the secret itself', async () => {
    const { send } = await guarded();
    const body = { project: sampleProject() };
    expect((await send('POST', '/api/projects', body, { authorization: `Bearer ${SECRET}` })).status).toBe(
      201,
    );
    expect((await send('GET', '/api/projects', undefined, { authorization: 'Bearer no' })).status).toBe(401);
    expect((await send('GET', '/api/projects', undefined, { authorization: 'Basic eDp5' })).status).toBe(401);
  });

  it('shuts again: after signing out, after a week without use, after a month at all', async () => {
    const { send, signIn, pass } = await guarded();
    const isIn = async (cookie: string) =>
      (await send('GET', '/api/projects', undefined, { cookie })).status === 200;
    const first = (await signIn()).cookie;
    const out = await send('DELETE', '/api/session', undefined, { cookie: first, 'x-clothlay': '1' });
    expect(out.headers.get('set-cookie')).toMatch(/^clothlay=; Max-Age=0/);
    expect(await isIn(first)).toBe(false);
    const second = (await signIn()).cookie;
    pass(IDLE_MS - 1);
    expect(await isIn(second)).toBe(true);
    pass(IDLE_MS + 1);
    expect(await isIn(second)).toBe(false);
    const third = (await signIn()).cookie;
    for (let ms = 0; ms < LONGEST_MS; ms += IDLE_MS / 2) {
      expect(await isIn(third)).toBe(true);
      pass(IDLE_MS / 2);
    }
    pass(1);
    expect(await isIn(third)).toBe(false);
  });

  it('gives each sign-in a session of its own and ends the one before', async () => {
    const { send, signIn, sessions } = await guarded();
    const { cookie } = await signIn();
    const again = await send('POST', '/api/session', { secret: SECRET }, { cookie, 'x-clothlay': '1' });
    expect(again.headers.get('set-cookie')!.split(';')[0]).not.toBe(cookie);
    expect((await send('GET', '/api/projects', undefined, { cookie })).status).toBe(401);
    expect(sessions.count).toBe(1);
  });

  it('keeps a bounded number of sessions, the last used ones', () => {
    let now = 0;
    const sessions = new Sessions(() => now++);
    const tokens = Array.from({ length: 510 }, () => sessions.begin());
    expect(sessions.count).toBe(500);
    expect(sessions.use(tokens[0])).toBeUndefined();
    expect(sessions.use(tokens[509])).toBeDefined();
    expect(new Set(Array.from({ length: 100 }, randomSecret)).size).toBe(100);
  });
});

describe('guessing', () => {
  it('ends after ten wrong passwords from one address, by either way in; the right one counts for nothing', async () => {
    const { send, signIn } = await guarded({ rates: { failedSignIns: 4 } });
    for (let i = 0; i < 6; i++) expect((await signIn()).answer.status).toBe(204);
    const { cookie } = await signIn();
    // Without any password at all nothing is guessed.
    for (let i = 0; i < 6; i++) expect((await send('GET', '/api/projects')).status).toBe(401);
    for (let i = 0; i < 2; i++) expect((await signIn('wrong')).answer.status).toBe(401);
    for (let i = 0; i < 2; i++) {
      const headers = { authorization: `Bearer wrong${i}` };
      expect((await send('GET', '/api/projects', undefined, headers)).status).toBe(401);
    }
    const { answer } = await signIn();
    expect(answer.status).toBe(429);
    expect(answer.headers.get('retry-after')).toBe('900');
    const bearer = { authorization: `Bearer ${SECRET}` };
    expect((await send('GET', '/api/projects', undefined, bearer)).status).toBe(429);
    // Who is in already goes on working.
    expect((await send('GET', '/api/projects', undefined, { cookie })).status).toBe(200);
  });

  it('does not get further with an address of its own choosing', async () => {
    const { send } = await guarded({ rates: { failedSignIns: 2 } });
    const statuses: number[] = [];
    for (let i = 0; i < 4; i++) {
      const headers = { 'x-forwarded-for': `192.0.2.${i}` };
      statuses.push((await send('POST', '/api/session', { secret: 'no' }, headers)).status);
    }
    expect(statuses).toEqual([401, 401, 429, 429]);
  });
});

describe('too many requests', () => {
  it('make one client wait and no other', async () => {
    const { send, signIn } = await guarded({ rates: { requests: 5 } });
    const [one, other] = [(await signIn()).cookie, (await signIn()).cookie];
    const read = (cookie: string) => send('GET', '/api/projects', undefined, { cookie });
    for (let i = 0; i < 5; i++) expect((await read(one)).status).toBe(200);
    const refused = await read(one);
    expect(refused.status).toBe(429);
    expect(refused.body).toMatchObject({ type: 'urn:clothlay:problem:too-many-requests' });
    expect((await read(other)).status).toBe(200);
  });
});

describe('an open door', () => {
  it('asks for nothing and says so', async () => {
    const { send } = await startServer();
    expect((await send('GET', '/api/session')).body).toEqual({ required: false, signedIn: true });
    const answer = await send('POST', '/api/session', { secret: 'anything' });
    expect(answer.status).toBe(204);
    expect(answer.headers.get('set-cookie')).toBeNull();
  });
});

describe('what is sent', () => {
  it('is never logged: no password, no name, no id, no address', async () => {
    const lines: string[] = [];
    const { send, port } = await guarded({
      log: (level, event, facts) => lines.push(JSON.stringify({ level, event, ...facts })),
    });
    const headers = { authorization: `Bearer ${SECRET}` };
    const project = sampleProject({ name: 'A secret satchel' });
    const { body } = await send<{ id: string }>('POST', '/api/projects', { project }, headers);
    await send('GET', `/api/projects/${body.id}?secret=satchel`, undefined, headers);
    await send('POST', '/api/session', { secret: 'wrong satchel' });
    await send('POST', '/api/projects', '{"project": satchel', headers);
    await new Promise<void>((resolve, reject) => {
      const request = httpRequest({ host: '127.0.0.1', port, path: '/satchel.js' }, (response) => {
        response.resume().on('end', resolve);
      });
      request.on('error', reject).end();
    });
    const log = lines.join('\n');
    expect(lines.length).toBeGreaterThanOrEqual(5);
    for (const word of ['satchel', SECRET, body.id, '127.0.0.1', 'Bearer']) expect(log).not.toContain(word);
  });
});
