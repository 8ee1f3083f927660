import { isIP } from 'node:net';
import { availableParallelism } from 'node:os';
import { join, resolve } from 'node:path';
import { LOG_LEVELS, type LogLevel } from './http/log.ts';
import type { HostRule } from './http/security.ts';

/** What the environment says about how to run. */
export interface Settings {
  readonly port: number;
  readonly host: string;
  readonly hosts: HostRule;
  /** Password to be let in; `printed` where none is set and a random one is made at the start; none on loopback. */
  readonly door: Door;
  readonly behindProxy: boolean;
  /** Files of the certificate and its key, where the server speaks https itself. */
  readonly tls: { readonly certificate: string; readonly key: string } | undefined;
  /** The one file everything is stored in. */
  readonly file: string;
  readonly threads: number;
  /** Redis with the queue that other machines take lays from; worked out in this process where there is none. */
  readonly redis: string | undefined;
  /** Least level that is logged. */
  readonly logLevel: LogLevel;
}

export type Door =
  | { readonly kind: 'open' }
  | { readonly kind: 'printed' }
  | { readonly kind: 'password'; readonly password: string };

type Environment = Readonly<Record<string, string | undefined>>;

/** The port of this program unless `PORT` says otherwise. */
const DEFAULT_PORT = 4680;

/** As OWASP ASVS 4.0.3 asks for (2.1.1). */
const LEAST_PASSWORD = 12;

/**
 * Reads PORT, HOST, ALLOWED_HOSTS (names, separated by commas), PASSWORD, BEHIND_PROXY, TLS_CERT and TLS_KEY, DATA_DIR,
 * THREADS, REDIS_URL and LOG_LEVEL. On a terminal only warnings and errors are logged by default, so that the address stays in sight.
 * @throws Error with a sentence naming the variable and its value
 */
export function readSettings(environment: Environment, isTerminal = false): Settings {
  const host = environment.HOST?.trim() || '127.0.0.1';
  const names = (environment.ALLOWED_HOSTS ?? '')
    .split(',')
    .map((name) => name.trim().toLowerCase())
    .filter((name) => name !== '');
  const isLoopback = host === 'localhost' || host === '::1' || (isIP(host) === 4 && host.startsWith('127.'));
  if (isIP(host) === 0 && host !== 'localhost') names.push(host.toLowerCase());
  const behindProxy = isOn(environment, 'BEHIND_PROXY');
  return {
    port: wholeNumber(environment, 'PORT', DEFAULT_PORT, 0, 65_535),
    host,
    hosts: { loopbackOnly: isLoopback, names },
    door: door(environment, isLoopback && names.length === 0 && !behindProxy),
    behindProxy,
    tls: tls(environment),
    file: join(resolve(environment.DATA_DIR || 'data'), 'clothlay.sqlite'),
    threads: wholeNumber(environment, 'THREADS', availableParallelism(), 1, 64),
    redis: redisUrl(environment),
    logLevel: logLevel(environment.LOG_LEVEL?.trim() || (isTerminal ? 'warn' : 'info')),
  };
}

/** Whoever can reach more than this machine's own address, or passes on other names to it, needs a password. */
function door(environment: Environment, isPrivate: boolean): Door {
  const password = environment.PASSWORD ?? '';
  if (password === '') return { kind: isPrivate ? 'open' : 'printed' };
  if ([...password].length < LEAST_PASSWORD)
    // Without its value: what is wrong may still be tried by whoever reads the log.
    throw new Error(`PASSWORD must have at least ${LEAST_PASSWORD} characters`);
  return { kind: 'password', password };
}

function isOn(environment: Environment, name: string): boolean {
  const text = environment[name]?.trim() ?? '';
  if (text === '' || text === '0') return false;
  if (text === '1') return true;
  throw new Error(`${name} must be 0 or 1, not "${text}"`);
}

function tls({ TLS_CERT, TLS_KEY }: Environment): Settings['tls'] {
  const [certificate, key] = [TLS_CERT?.trim() ?? '', TLS_KEY?.trim() ?? ''];
  if (certificate === '' && key === '') return undefined;
  if (certificate === '' || key === '') throw new Error('TLS_CERT and TLS_KEY go together: set both');
  return { certificate, key };
}

/**
 * `REDIS_URL`: the address of a Redis, which may hold a password.
 * @throws Error without its value
 */
export function redisUrl({ REDIS_URL }: Environment): string | undefined {
  const text = REDIS_URL?.trim() ?? '';
  if (text === '') return undefined;
  if (URL.canParse(text) && /^rediss?:$/.test(new URL(text).protocol) && new URL(text).hostname !== '')
    return text;
  throw new Error('REDIS_URL must be an address such as redis://:password@host:6379, or rediss:// for TLS');
}

function logLevel(text: string): LogLevel {
  const level = LOG_LEVELS.find((known) => known === text);
  if (level !== undefined) return level;
  throw new Error(`LOG_LEVEL must be one of ${LOG_LEVELS.join(', ')}, not "${text}"`);
}

function wholeNumber(
  environment: Environment,
  name: string,
  usual: number,
  min: number,
  max: number,
): number {
  const text = environment[name]?.trim();
  if (text === undefined || text === '') return usual;
  const value = Number(text);
  if (/^\d+$/.test(text) && value >= min && value <= max) return value;
  throw new Error(`${name} must be a whole number from ${min} to ${max}, not "${text}"`);
}
