import { parentPort } from 'node:worker_threads';
import { search } from '../packing/search.ts';
import { serveSearches } from './serveSearches.ts';
import { yieldToOthers } from './yieldToOthers.ts';

/** What a thread of the pool runs. */
if (!parentPort) throw new Error('thread.ts runs in a worker thread only');
yieldToOthers();
serveSearches(parentPort, search);
