#!/usr/bin/env node
import { run } from './run.ts';

// A reader of our output that goes away (a closed pipe) is no reason to crash.
for (const stream of [process.stdout, process.stderr]) stream.on('error', () => {});
const stop = new AbortController();
// The first interrupt ends the search with what it has; a second one ends the program.
process.once('SIGINT', () => stop.abort());
process.once('SIGTERM', () => stop.abort());
process.exitCode = await run(
  process.argv.slice(2),
  {
    input: process.stdin,
    out: (text) => process.stdout.write(text),
    error: (text) => process.stderr.write(text),
  },
  stop.signal,
).catch((error: unknown) => {
  process.stderr.write(
    `clothlay failed by a fault of its own: ${error instanceof Error ? error.stack : error}\n`,
  );
  return 3;
});
