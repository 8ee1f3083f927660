import { resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readSettings } from '../../server/settings.ts';

describe('settings', () => {
  it('are the loopback address, port 4680 and ./data, unless the environment says otherwise', () => {
    expect(readSettings({})).toMatchObject({
      port: 4680,
      host: '127.0.0.1',
      hosts: { loopbackOnly: true, names: [] },
      door: { kind: 'open' },
      behindProxy: false,
      file: resolve('data/clothlay.sqlite'),
    });
    const settings = readSettings({
      PORT: '80',
      HOST: '0.0.0.0',
      ALLOWED_HOSTS: 'Bags.example, workshop.example,',
      DATA_DIR: '/srv/bags',
      THREADS: '3',
      LOG_LEVEL: 'error',
    });
    expect(settings).toEqual({
      port: 80,
      host: '0.0.0.0',
      hosts: { loopbackOnly: false, names: ['bags.example', 'workshop.example'] },
      door: { kind: 'printed' },
      behindProxy: false,
      tls: undefined,
      file: '/srv/bags/clothlay.sqlite',
      threads: 3,
      logLevel: 'error',
    });
  });

  it('take a host name as a name to be addressed by', () => {
    expect(readSettings({ HOST: 'Workshop.example' }).hosts).toEqual({
      loopbackOnly: false,
      names: ['workshop.example'],
    });
    expect(readSettings({ HOST: '::1' }).hosts.loopbackOnly).toBe(true);
    expect(readSettings({ HOST: 'localhost' }).hosts).toEqual({ loopbackOnly: true, names: [] });
  });

  it('shut the door as soon as anyone but this machine could come', () => {
    const password = 'two needles and a bobbin';
    for (const HOST of ['127.0.0.1', '::1', 'localhost', '127.8.8.8']) {
      expect(readSettings({ HOST }).door).toEqual({ kind: 'open' });
      expect(readSettings({ HOST, PASSWORD: password }).door).toEqual({ kind: 'password', password });
    }
    for (const HOST of ['0.0.0.0', '::', '192.0.2.1', 'workshop.example']) {
      expect(readSettings({ HOST }).door).toEqual({ kind: 'printed' });
      expect(readSettings({ HOST, PASSWORD: password }).door).toEqual({ kind: 'password', password });
    }
    // A proxy on this machine passes on what others ask.
    expect(readSettings({ ALLOWED_HOSTS: 'bags.example' }).door).toEqual({ kind: 'printed' });
    expect(readSettings({ BEHIND_PROXY: '1' })).toMatchObject({
      behindProxy: true,
      door: { kind: 'printed' },
    });
    expect(() => readSettings({ PASSWORD: 'short' })).toThrow('at least 12 characters');
    expect(() => readSettings({ PASSWORD: 'short' })).not.toThrow('short');
    expect(() => readSettings({ BEHIND_PROXY: 'yes' })).toThrow('BEHIND_PROXY must be 0 or 1');
    expect(() => readSettings({ TLS_CERT: 'a.pem' })).toThrow('set both');
  });

  it('log requests unless they would bury the address on a terminal', () => {
    expect(readSettings({}).logLevel).toBe('info');
    expect(readSettings({}, true).logLevel).toBe('warn');
    expect(readSettings({ LOG_LEVEL: 'info' }, true).logLevel).toBe('info');
    expect(() => readSettings({ LOG_LEVEL: 'loud' })).toThrow(
      'LOG_LEVEL must be one of info, warn, error, not "loud"',
    );
  });

  it.each([
    ['PORT', '65536'],
    ['PORT', 'http'],
    ['PORT', '-1'],
    ['PORT', '4680.5'],
    ['THREADS', '0'],
  ])('say which variable is wrong: %s=%s', (name, value) => {
    expect(() => readSettings({ [name]: value })).toThrow(`${name} must be a whole number`);
    expect(() => readSettings({ [name]: value })).toThrow(`"${value}"`);
  });

  it('take the address of a Redis, and name a wrong one without what it says', () => {
    expect(readSettings({}).redis).toBeUndefined();
    expect(readSettings({ REDIS_URL: ' redis://:secret@queue.example:6380/2 ' }).redis).toBe(
      'redis://:secret@queue.example:6380/2',
    );
    expect(readSettings({ REDIS_URL: 'rediss://queue.example' }).redis).toBe('rediss://queue.example');
    for (const wrong of ['queue.example:6379', 'http://queue.example', 'redis://', 'secret']) {
      expect(() => readSettings({ REDIS_URL: wrong })).toThrow(/^REDIS_URL must be an address such as/);
      expect(() => readSettings({ REDIS_URL: wrong })).not.toThrow(/secret|queue/);
    }
  });
});
