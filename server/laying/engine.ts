import { Pool } from '../../nesting/workers/pool.ts';
import type { RunLay } from '../lays.ts';
import { LayCrew } from './layCrew.ts';
import type { Places } from './places.ts';

/** Whatever works lays out. */
export interface Engine {
  readonly run: RunLay;
  /** Where that is elsewhere. */
  readonly places?: Places;
  close(): Promise<void>;
}

/** Most memory of one thread's heap, MB: a search or a lay of the largest projects needs a fifth of it. */
const THREAD_MB = 512;
/** Searches are the least urgent, then what is worked out around them; answers come first. */
const NICENESS = { search: 10, lay: 5 };

/**
 * Works lays out in threads of this process.
 * @param threads searches at the same time
 * @param places lays at the same time
 */
export function embeddedEngine(threads: number, places: number): Engine {
  const pool = new Pool({ threads, niceness: NICENESS.search, memoryMb: THREAD_MB });
  const crew = new LayCrew({
    solve: pool.solve,
    threads: places,
    memoryMb: THREAD_MB,
    niceness: NICENESS.lay,
  });
  return {
    run: crew.run,
    close: async () => {
      await Promise.all([crew.close(), pool.close()]);
    },
  };
}
