import { Problem } from '../http/problem.ts';
import { serveErrands } from '../threads/serveErrands.ts';
import { type FileOrder, makeHere } from './makers.ts';

/** What a thread that makes files runs. */
serveErrands(async (order) => {
  const { name, input, language } = order as FileOrder;
  try {
    const output = await makeHere(name, input, { language });
    const { body } = output;
    return typeof body === 'string' ? { output } : { output, transfer: ownBuffer(body) };
  } catch (error) {
    // What the asker did wrong travels as it is; anything else is a fault of ours.
    if (error instanceof Problem) throw Object.assign(new Error(error.message), { facts: error.parts });
    throw error;
  }
});

/** The memory of a buffer, where nothing else lies in it: it is handed over instead of copied. */
function ownBuffer({ buffer, byteLength }: Uint8Array): ArrayBuffer[] {
  return buffer instanceof ArrayBuffer && buffer.byteLength === byteLength ? [buffer] : [];
}
