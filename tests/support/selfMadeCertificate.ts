import { execFileSync, spawnSync } from 'node:child_process';
import { join } from 'node:path';

/** Without openssl the tests of https are left out, except where the build is judged: there it is a fault. */
export const hasOpenssl = spawnSync('openssl', ['version']).status === 0 || process.env.CI !== undefined;

/** Files of a certificate for localhost, 127.0.0.1 and workshop.test that signs itself, made as the README says. */
export function selfMadeCertificate(folder: string): { certificate: string; key: string } {
  const [certificate, key] = [join(folder, 'cert.pem'), join(folder, 'key.pem')];
  const names = 'subjectAltName=DNS:localhost,DNS:workshop.test,IP:127.0.0.1';
  execFileSync(
    'openssl',
    [
      ...[
        'req',
        '-x509',
        '-newkey',
        'ec',
        '-pkeyopt',
        'ec_paramgen_curve:prime256v1',
        '-nodes',
        '-days',
        '2',
      ],
      ...['-subj', '/CN=workshop.test', '-addext', names, '-keyout', key, '-out', certificate],
    ],
    { stdio: 'ignore' },
  );
  return { certificate, key };
}
