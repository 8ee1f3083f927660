/** Is the cloth at hand enough, and if not, what single concession would make it so? */
export {
  type Conceded,
  type Concession,
  type ConcessionKind,
  concede,
  concessionsFor,
  costOf,
} from './concessions.ts';
export {
  choiceOf,
  type EnoughProgress,
  type EnoughRequest,
  isItEnough,
  type Judgement,
  judgementOf,
  type Remedy,
} from './enough.ts';
