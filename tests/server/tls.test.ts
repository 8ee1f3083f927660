import { execFileSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { request as httpRequest, type IncomingHttpHeaders } from 'node:http';
import { request as httpsRequest, type RequestOptions } from 'node:https';
import { join } from 'node:path';
import { connect, type SecureVersion } from 'node:tls';
import { describe, expect, it } from 'vitest';
import { readCertificate } from '../../server/certificate.ts';
import { hasOpenssl, selfMadeCertificate } from '../support/selfMadeCertificate.ts';
import { sampleProject, temporaryFolder } from './harness.ts';
import { start, startListening } from './program.ts';

const PASSWORD = 'two needles and a bobbin';

interface Answer {
  readonly status: number;
  readonly headers: IncomingHttpHeaders;
  readonly text: string;
}

/** Requests that trust this certificate and no other, and check that it is for the name in the address. */
function trusting(ca: string, port: string) {
  return (method: string, path: string, options: RequestOptions = {}, body?: unknown): Promise<Answer> =>
    new Promise((resolve, reject) => {
      const headers = {
        ...(body === undefined ? {} : { 'content-type': 'application/json' }),
        ...options.headers,
      };
      const asked = httpsRequest(
        { host: '127.0.0.1', port, method, path, ca, ...options, headers },
        (response) => {
          let text = '';
          response.setEncoding('utf8').on('data', (chunk: string) => {
            text += chunk;
          });
          response.on('end', () =>
            resolve({ status: response.statusCode!, headers: response.headers, text }),
          );
        },
      );
      asked.on('error', reject).end(body === undefined ? undefined : JSON.stringify(body));
    });
}

/** The version both sides agree on when the client speaks none but this; the system's word where they don't. */
function agreed(ca: string, port: number, version: SecureVersion): Promise<string> {
  return new Promise((resolve) => {
    const socket = connect(
      // Old versions must be allowed here, else it would be the client that refuses.
      {
        host: '127.0.0.1',
        port,
        ca,
        minVersion: version,
        maxVersion: version,
        ciphers: 'DEFAULT@SECLEVEL=0',
      },
      () => {
        resolve(socket.getProtocol() ?? 'none');
        socket.destroy();
      },
    );
    socket.on('error', (error: NodeJS.ErrnoException) => resolve(error.code ?? error.message));
  });
}

describe.skipIf(!hasOpenssl)(
  `https by a certificate of one’s own${hasOpenssl ? '' : ' (skipped: no openssl here)'}`,
  { timeout: 120_000 },
  () => {
    it('serves page, sessions, writes and events over https alone', async () => {
      const { certificate, key } = selfMadeCertificate(temporaryFolder());
      const { url, child, ended } = await startListening({
        DATA_DIR: temporaryFolder(),
        TLS_CERT: certificate,
        TLS_KEY: key,
        PASSWORD,
        ALLOWED_HOSTS: 'workshop.test',
      });
      expect(url).toMatch(/^https:\/\/127\.0\.0\.1:\d+$/);
      const { port } = new URL(url);
      const ca = readFileSync(certificate, 'utf8');
      const send = trusting(ca, port);

      expect((await send('GET', '/api/projects')).status).toBe(401);
      const signedIn = await send('POST', '/api/session', {}, { secret: PASSWORD });
      expect(signedIn.status).toBe(204);
      const [cookie, ...facts] = signedIn.headers['set-cookie']![0]!.split('; ');
      expect(cookie).toMatch(/^__Host-clothlay=[\w-]{43}$/);
      expect(facts).toEqual(expect.arrayContaining(['Path=/', 'HttpOnly', 'Secure', 'SameSite=Strict']));
      expect(facts.some((fact) => fact.startsWith('Domain'))).toBe(false);

      const headers = { cookie: cookie!, 'x-clothlay': '1' };
      const created = await send('POST', '/api/projects', { headers }, { project: sampleProject() });
      expect(created.status).toBe(201);
      // As a browser sends it: its own page, over https, on a port that is not the usual one.
      const origin = { ...headers, origin: url };
      const lay = await send(
        'POST',
        '/api/lays',
        { headers: origin },
        { project: sampleProject(), seconds: 0.2 },
      );
      expect(lay.status).toBe(202);
      const events = await send('GET', `/api/lays/${JSON.parse(lay.text).id}/events`, { headers });
      expect(events.text).toContain('"state":"done"');
      const elsewhere = { ...headers, origin: 'https://elsewhere.test' };
      expect((await send('POST', '/api/projects', { headers: elsewhere }, {})).status).toBe(403);
      // The cookie of a plain http visit is none here.
      const plainName = { cookie: cookie!.replace('__Host-', '') };
      expect((await send('GET', '/api/projects', { headers: plainName })).status).toBe(401);

      child.kill('SIGTERM');
      expect(await ended).toBe(0);
    });

    it('tells browsers to stay with https by name, but not at localhost', async () => {
      const { certificate, key } = selfMadeCertificate(temporaryFolder());
      const { url } = await startListening({
        DATA_DIR: temporaryFolder(),
        TLS_CERT: certificate,
        TLS_KEY: key,
        ALLOWED_HOSTS: 'workshop.test',
        PASSWORD,
      });
      const send = trusting(readFileSync(certificate, 'utf8'), new URL(url).port);
      const said = async (host: string) =>
        (await send('GET', '/api/health', { servername: host, headers: { host: `${host}:4680` } })).headers[
          'strict-transport-security'
        ];
      expect(await said('workshop.test')).toBe('max-age=31536000');
      expect(await said('localhost')).toBeUndefined();
    });

    it('speaks TLS 1.2 and 1.3 only, and no plain http on its port', async () => {
      const { certificate, key } = selfMadeCertificate(temporaryFolder());
      const { url } = await startListening({
        DATA_DIR: temporaryFolder(),
        TLS_CERT: certificate,
        TLS_KEY: key,
      });
      const port = Number(new URL(url).port);
      const ca = readFileSync(certificate, 'utf8');
      expect(await agreed(ca, port, 'TLSv1.3')).toBe('TLSv1.3');
      expect(await agreed(ca, port, 'TLSv1.2')).toBe('TLSv1.2');
      for (const old of ['TLSv1', 'TLSv1.1'] as const)
        expect(await agreed(ca, port, old)).toMatch(/^(ERR_SSL_.*(PROTOCOL|ALERT).*|ECONNRESET)$/);
      const plain = new Promise((resolve, reject) => {
        httpRequest({ host: '127.0.0.1', port, path: '/api/health' }, resolve).on('error', reject).end();
      });
      await expect(plain).rejects.toThrow();
      // It goes on serving after all that.
      expect((await trusting(ca, String(port))('GET', '/api/health')).status).toBe(200);
    });

    it('names the file that is wrong, and nothing of the key', async () => {
      const folder = temporaryFolder();
      const { certificate, key } = selfMadeCertificate(folder);
      const file = (name: string, text: string): string => {
        writeFileSync(join(folder, name), text);
        return join(folder, name);
      };
      const other = selfMadeCertificate(temporaryFolder()).key;
      const locked = join(folder, 'locked.pem');
      execFileSync('openssl', ['pkey', '-in', key, '-aes256', '-passout', 'pass:bobbin', '-out', locked]);
      const noPem = file('none.pem', 'a shopping list\n');
      const why = (files: { certificate: string; key: string }): string => {
        try {
          readCertificate(files);
        } catch (error) {
          return (error as Error).message;
        }
        return 'it went well';
      };
      expect(why({ certificate, key })).toBe('it went well');
      expect(why({ certificate, key: other })).toMatch(/^TLS_KEY: .* is not the key of the certificate in/);
      expect(why({ certificate, key: locked })).toMatch(
        /^TLS_KEY: .*locked\.pem is locked with a passphrase/,
      );
      expect(why({ certificate, key: noPem })).toMatch(/^TLS_KEY: .*none\.pem holds no private key/);
      expect(why({ certificate, key: certificate })).toMatch(/^TLS_KEY: .* holds no private key/);
      expect(why({ certificate: noPem, key })).toMatch(/^TLS_CERT: .*none\.pem holds no certificate/);
      expect(why({ certificate: join(folder, 'gone'), key })).toMatch(
        /^TLS_CERT: .*gone can't be read: ENOENT/,
      );
      const secret = readFileSync(key, 'utf8').split('\n')[1]!;
      expect(why({ certificate: noPem, key })).not.toContain(secret);

      // And so does the program, before it listens.
      const program = start({ DATA_DIR: temporaryFolder(), TLS_CERT: certificate, TLS_KEY: other });
      expect(await program.ended).toBe(1);
      expect(program.errors()).toMatch(/^TLS_KEY: .* is not the key of the certificate in .*\n$/);
      expect(program.output()).toBe('');
    });
  },
);
