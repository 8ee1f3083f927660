import fc from 'fast-check';

/**
 * Property tests draw the same cases in every run, so that a failure belongs to the change that brought it and not
 * to luck. `FC_SEED=random` (or a number) hunts for new ones; what it finds becomes a fixture or a named example.
 */
const PINNED_SEED = 20_261_125;
const wanted = process.env.FC_SEED;

if (wanted !== 'random')
  fc.configureGlobal({ ...fc.readConfigureGlobal(), seed: Number(wanted ?? PINNED_SEED) });
