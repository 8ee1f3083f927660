/**
 * Starts a thread on a TypeScript file while developing and testing; the built server does without it. Plain
 * JavaScript, because Node 20 can't read anything else before the loader is registered, and a loader named in a
 * thread's `execArgv` isn't used for its entry.
 */
import { workerData } from 'node:worker_threads';
import { register } from 'tsx/esm/api';

register();
await import(workerData.entry);
