import { readFileSync } from 'node:fs';

/** Linux counts processor time in this unit (sysconf(_SC_CLK_TCK), 100 on every machine this runs on), 1/s. */
const TICKS = 100;

export interface ProcessSample {
  readonly atMs: number;
  /** Memory of the process that lies in the machine's, MB. */
  readonly residentMb: number;
}

interface Times {
  readonly atMs: number;
  readonly process: number;
  readonly own: number;
  readonly all: number;
  /** What the process's first thread ran, and waited for a processor while others had it, ms. */
  readonly ranMs: number;
  readonly waitedMs: number;
}

/**
 * Looks at a process from outside, twice a second, by what Linux tells in /proc: memory, and how busy it, the bench
 * and everything else on the machine were.
 */
export class ProcessWatch {
  readonly samples: ProcessSample[] = [];
  readonly #pid: number;
  readonly #timer: NodeJS.Timeout;
  readonly #start: Times;

  constructor(pid: number) {
    this.#pid = pid;
    this.#start = this.#times();
    this.#timer = setInterval(() => this.#look(), 500);
  }

  /** Processors' worth of work since the start: the process, this one, all others. */
  shares(): { server: number; bench: number; others: number } {
    const now = this.#times();
    const seconds = (now.atMs - this.#start.atMs) / 1000;
    const share = (of: 'process' | 'own' | 'all'): number => (now[of] - this.#start[of]) / TICKS / seconds;
    const [server, bench] = [share('process'), share('own')];
    return { server, bench, others: Math.max(0, share('all') - server - bench) };
  }

  /** Of the time in which the thread that answers had work, the part in which it waited for a processor. */
  waitingShare(): number {
    const { ranMs, waitedMs } = this.#times();
    const [ran, waited] = [ranMs - this.#start.ranMs, waitedMs - this.#start.waitedMs];
    return waited / (ran + waited);
  }

  /** Part of the time in which the thread that answers ran. */
  answeringShare(): number {
    const now = this.#times();
    return (now.ranMs - this.#start.ranMs) / (now.atMs - this.#start.atMs);
  }

  stop(): void {
    clearInterval(this.#timer);
  }

  #look(): void {
    const status = readFileSync(`/proc/${this.#pid}/status`, 'utf8');
    const kb = Number(/^VmRSS:\s+(\d+) kB$/m.exec(status)?.[1]);
    this.samples.push({ atMs: performance.now(), residentMb: kb / 1024 });
  }

  #times(): Times {
    return {
      atMs: performance.now(),
      process: ticksOf(this.#pid),
      own: ticksOf(process.pid),
      all: busyTicks(),
      ...firstThread(this.#pid),
    };
  }
}

/** User and system time of a process with all its threads (proc_pid_stat(5), fields 14 and 15). */
function ticksOf(pid: number): number {
  const stat = readFileSync(`/proc/${pid}/stat`, 'utf8');
  const fields = stat.slice(stat.lastIndexOf(')') + 2).split(' ');
  return Number(fields[11]) + Number(fields[12]);
}

/** Time all processors together were not idle (proc_stat(5)). */
function busyTicks(): number {
  const [, user, nice, system, , , irq, softIrq] = readFileSync('/proc/stat', 'utf8')
    .split('\n', 1)[0]!
    .split(/\s+/)
    .map(Number);
  return user! + nice! + system! + irq! + softIrq!;
}

/** By /proc/PID/task/PID/schedstat: run time and waiting time in ns (Linux, Documentation/scheduler/sched-stats). */
function firstThread(pid: number): { ranMs: number; waitedMs: number } {
  const [ran, waited] = readFileSync(`/proc/${pid}/task/${pid}/schedstat`, 'utf8').split(' ').map(Number);
  return { ranMs: ran! / 1e6, waitedMs: waited! / 1e6 };
}
