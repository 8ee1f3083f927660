/**
 * Loaded before the server under the bench (`node --expose-gc --import`), in its process and in each of its threads:
 * on SIGUSR2 every thread collects its garbage and writes what is left to the file `LIVE_HEAP` names, one JSON line
 * each. Resident memory alone cannot tell what is held from what V8 has not yet cared to collect.
 */
import { appendFileSync } from 'node:fs';
import { BroadcastChannel, isMainThread, threadId } from 'node:worker_threads';

const file = process.env.LIVE_HEAP;
const channel = new BroadcastChannel('collect');
channel.unref();

/** @param {number} round */
function collect(round) {
  const { heapTotal: reserved } = process.memoryUsage();
  // Twice: what finalizers let go of in the first round goes in the second.
  globalThis.gc?.();
  globalThis.gc?.();
  const { heapUsed, external } = process.memoryUsage();
  const thread = isMainThread ? 0 : threadId;
  appendFileSync(file, `${JSON.stringify({ round, thread, reserved, heapUsed, external })}\n`);
}

if (file !== undefined) {
  channel.onmessage = ({ data }) => collect(data);
  if (isMainThread) {
    let round = 0;
    process.on('SIGUSR2', () => {
      channel.postMessage(++round);
      collect(round);
    });
  }
}
