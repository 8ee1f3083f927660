import { z } from 'zod';
import { type Operation, operation } from '../http/operation.ts';
import type { Lays } from '../lays.ts';
import type { ProjectStore } from '../storage/projectStore.ts';
import { StorageFault } from '../storage/storageFault.ts';

export const healthSchema = z.object({
  /** `degraded`: projects can't be stored, or lays can't be worked out. */
  status: z.enum(['ok', 'degraded']),
  /** Left out for whoever has not signed in. */
  version: z.string().optional(),
  /** `ok`, or what is wrong in words. */
  storage: z.string(),
  /** Whether lays can be worked out: `ok`, or what is wrong in words. */
  engine: z.string(),
  lays: z.object({ running: z.int(), waiting: z.int(), kept: z.int() }),
});

export function healthOperations(store: ProjectStore, lays: Lays, version: string): Operation[] {
  return [
    operation(
      {
        method: 'get',
        path: '/api/health',
        isOpen: true,
        id: 'readHealth',
        summary: 'Tell whether the server can do its work',
        answers: {
          200: { description: 'It answers; `status` says whether all of it works', schema: healthSchema },
        },
      },
      (_checked, response) => {
        const storage = storageState(store);
        const engine = lays.condition();
        const status = storage === 'ok' && engine === 'ok' ? 'ok' : 'degraded';
        const isLetIn = response.locals.isLetIn === true;
        response.json({ status, ...(isLetIn ? { version } : {}), storage, engine, lays: lays.counts() });
      },
    ),
  ];
}

function storageState(store: ProjectStore): string {
  try {
    store.probe();
    return 'ok';
  } catch (error) {
    if (error instanceof StorageFault) return error.message;
    throw error;
  }
}
