import os from 'node:os';

/** What a number was measured on. */
export interface Machine {
  readonly cpu: string;
  readonly processors: number;
  readonly memoryGb: number;
  readonly system: string;
  readonly node: string;
  readonly date: string;
}

export function describeMachine(): Machine {
  return {
    cpu: os.cpus()[0]?.model ?? 'unknown processor',
    processors: os.availableParallelism(),
    memoryGb: Math.round(os.totalmem() / 2 ** 30),
    system: `${os.type()} ${os.arch()}`,
    node: process.version,
    date: new Date().toISOString().slice(0, 10),
  };
}
