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
  /** The one file everything is stored in. */
  readonly file: string;
  readonly threads: number;
  /** Least level that is logged. */
  readonly logLevel: LogLevel;
}

type Environment = Readonly<Record<string, string | undefined>>;

/** The port of this program unless `PORT` says otherwise. */
export const DEFAULT_PORT = 4680;

/**
 * Reads PORT, HOST, ALLOWED_HOSTS (names, separated by commas), DATA_DIR, THREADS and LOG_LEVEL. On a terminal
 * only warnings and errors are logged by default, so that the address stays in sight.
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
  return {
    port: wholeNumber(environment, 'PORT', DEFAULT_PORT, 0, 65_535),
    host,
    hosts: { loopbackOnly: isLoopback, names },
    file: join(resolve(environment.DATA_DIR || 'data'), 'clothlay.sqlite'),
    threads: wholeNumber(environment, 'THREADS', availableParallelism(), 1, 64),
    logLevel: logLevel(environment.LOG_LEVEL?.trim() || (isTerminal ? 'warn' : 'info')),
  };
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
