import { useEffect, useRef, useState } from 'preact/hooks';
import { type EnoughProgress, isItEnough, type Remedy } from '../../../pattern/enough/index.ts';
import type { Cloth, Project } from '../../../pattern/exchange/project.ts';
import { solveInPage } from '../../packing/solve.ts';
import { choiceAskedAbout, makeConcession } from '../../state/enoughCommands.ts';
import { t } from '../../strings/index.ts';
import { formatLength } from '../../strings/lengths.ts';
import { LayPicture } from '../plan/LayPicture.tsx';
import { useSession } from '../shared/hooks.ts';
import { Icon } from '../shared/Icon.tsx';
import { concessionInWords } from './concessionWords.ts';

interface WhatWouldFitProps {
  readonly project: Project;
  readonly cloth: Cloth;
}

/** How long each trial looks, in seconds: what fits is mostly found at once. */
const TRIAL_SECONDS = 3;

/** Asked where a layout does not hold everything: what single concession would make it so. */
export function WhatWouldFit({ project, cloth }: WhatWouldFitProps) {
  const [progress, setProgress] = useState<EnoughProgress | null>(null);
  const [isRunning, setRunning] = useState(false);
  const [fault, setFault] = useState<string | null>(null);
  const running = useRef<AbortController | null>(null);
  useEffect(() => () => running.current?.abort(), []);

  const ask = async (): Promise<void> => {
    running.current?.abort();
    const abort = new AbortController();
    running.current = abort;
    setFault(null);
    setProgress({ judgement: null, remedies: [], tried: 0, of: 0 });
    setRunning(true);
    const request = {
      project,
      choice: choiceAskedAbout(project, cloth),
      seconds: TRIAL_SECONDS,
      seed: 1,
    };
    try {
      await isItEnough(
        request,
        solveInPage(),
        (next) => !abort.signal.aborted && setProgress(next),
        abort.signal,
      );
    } catch (error) {
      if (!abort.signal.aborted) setFault(error instanceof Error ? error.message : String(error));
    }
    if (running.current === abort) setRunning(false);
  };
  const stop = (): void => {
    running.current?.abort();
    setRunning(false);
  };
  if (progress === null)
    return (
      <div>
        <button type="button" title={t.enough.askHelp} onClick={() => void ask()}>
          {t.enough.ask}
        </button>
      </div>
    );
  return (
    <section class="what-would-fit" aria-label={t.enough.title}>
      <h5>{t.enough.title}</h5>
      <p role="status">
        {isRunning
          ? progress.judgement === null
            ? t.enough.judging
            : t.enough.trying(progress.tried, progress.of)
          : outcome(progress)}
      </p>
      {fault !== null && (
        <p class="banner bad" role="alert">
          <Icon name="lacking" />
          <span>{t.enough.failed(fault)}</span>
        </p>
      )}
      {progress.judgement && progress.judgement.verdict !== 'fits' && (
        <NearMiss project={project} judgement={progress.judgement} />
      )}
      <div class="buttons">
        {isRunning ? (
          <button type="button" onClick={stop}>
            <Icon name="stop" />
            {t.enough.stop}
          </button>
        ) : (
          <button type="button" class="quiet" onClick={() => void ask()}>
            {t.enough.again}
          </button>
        )}
      </div>
      <ol class="remedies">
        {progress.remedies.map((remedy) => (
          <li key={JSON.stringify(remedy.concession)}>
            <RemedyCard project={project} remedy={remedy} />
          </li>
        ))}
      </ol>
    </section>
  );
}

function outcome({ judgement, remedies, tried }: EnoughProgress): string {
  if (judgement?.verdict === 'fits') return t.enough.fitsAfterAll;
  if (remedies.length > 0) return t.enough.found(remedies.length);
  return tried > 0 ? t.enough.none(tried) : t.enough.noneYet;
}

function NearMiss({
  project,
  judgement: { missing, shortMm },
}: {
  readonly project: Project;
  readonly judgement: NonNullable<EnoughProgress['judgement']>;
}) {
  const nameOf = (id: string): string => project.pieces.find((piece) => piece.id === id)?.name ?? id;
  const names = missing.map(({ pieceId, copies }) => t.enough.times(nameOf(pieceId), copies));
  return (
    <p class="faint">
      {names.length > 0 && t.enough.missing(names.join(', '))}{' '}
      {shortMm > 0 && t.enough.short(formatLength(Math.ceil(shortMm), project.units))}
    </p>
  );
}

function RemedyCard({ project, remedy }: { readonly project: Project; readonly remedy: Remedy }) {
  const session = useSession();
  const words = concessionInWords(project, remedy.concession);
  const make = (): void => {
    session.do(makeConcession(remedy.conceded.choice.materialId, remedy.concession, words));
    session.announce(t.enough.done(words));
  };
  const shown = remedy.results.filter((lay) => lay.segments.some(({ placed }) => placed.length > 0));
  return (
    <>
      <div class="row">
        <strong>{words}</strong>
        <button type="button" onClick={make}>
          {t.enough.doIt}
        </button>
      </div>
      <details class="help">
        <summary>{t.enough.picture(words)}</summary>
        {shown.map((lay) => (
          <LayPicture
            key={`${lay.clothId} ${lay.spread}`}
            project={remedy.conceded.project}
            lay={lay}
            label={t.enough.picture(words)}
          />
        ))}
      </details>
    </>
  );
}
