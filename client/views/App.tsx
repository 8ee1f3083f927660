import { useEffect, useRef } from 'preact/hooks';
import { totalCopies } from '../../pattern/cutList/index.ts';
import type { Project } from '../../pattern/exchange/project.ts';
import { progressOf, tickParts } from '../../pattern/output/ticks.ts';
import { lacksOf } from '../state/lacks.ts';
import { currentPlan } from '../state/layCommands.ts';
import { STEPS, type StepName, writeRoute } from '../state/route.ts';
import { t } from '../strings/index.ts';
import { ConflictBanner } from './ConflictBanner.tsx';
import { Header } from './Header.tsx';
import { SaveTrouble } from './SaveTrouble.tsx';
import { SignIn } from './SignIn.tsx';
import {
  type Bench,
  BenchProvider,
  useAddress,
  useBench,
  useProject,
  useSession,
  useStore,
} from './shared/hooks.ts';
import { Icon } from './shared/Icon.tsx';
import { viewsHere } from './shared/lazyView.tsx';
import { pointAt } from './shared/pointing.ts';
import { STEP_VIEWS } from './steps.ts';

export function App({ bench }: { readonly bench: Bench }) {
  return (
    <BenchProvider value={bench}>
      <Page />
    </BenchProvider>
  );
}

/** List and detail lie side by side from here on (see `.split`). */
const WIDE_ENOUGH = '(min-width: 60rem)';

function Page() {
  const session = useSession();
  const status = useStore(session.status);
  const { door, route: address } = useBench();
  const route = useStore(address);
  const isShut = useStore(door.state) === 'closed';
  const main = useRef<HTMLElement>(null);
  const place = `${route.step} ${route.open ?? ''}`;
  const before = useRef(place);
  const { name } = useProject();
  useEffect(() => {
    document.title = status.kind === 'ready' ? `${name} – ${t.app.name}` : t.app.name;
  }, [name, status]);
  // Going somewhere begins at the top of it, for the eye and for a screen reader.
  useEffect(() => {
    if (before.current === place) return;
    const [oldStep] = before.current.split(' ');
    before.current = place;
    if (oldStep !== route.step) {
      main.current?.focus({ preventScroll: true });
      scrollTo({ top: 0 });
    } else if (document.querySelector('.pointed')) {
      document.querySelector('.pointed')?.scrollIntoView({ block: 'nearest' });
    } else if (!matchMedia(WIDE_ENOUGH).matches) {
      // On a narrow screen the thing opened takes the place of the list, and back.
      main.current?.focus({ preventScroll: true });
      scrollTo({ top: 0 });
    } else {
      document.querySelector('.card[aria-current]')?.scrollIntoView({ block: 'nearest' });
      // Its form begins at its top: the fields asked for first stand there.
      const detail = document.querySelector('.split-detail');
      if (detail && detail.getBoundingClientRect().top < 0) detail.scrollIntoView({ block: 'start' });
    }
  }, [place, route]);
  const isReady = status.kind === 'ready';
  const spot = route.at ?? null;
  useEffect(() => {
    if (spot === null || !isReady) return;
    viewsHere(() => pointAt(spot));
    // Pointed at once: the same link may be followed again, and a reload begins at the top.
    const { at: _, ...there } = address.value;
    history.replaceState(history.state, '', writeRoute(there));
    address.set(there);
  }, [route, spot, isReady]);
  const Step = STEP_VIEWS[route.step];
  return (
    <>
      <button type="button" class="skip" onClick={() => main.current?.focus()}>
        {t.app.skip}
      </button>
      <Header />
      {status.kind === 'ready' && <StepNav />}
      <main id="work" ref={main} tabIndex={-1}>
        {status.kind === 'loading' && (
          <p class="waiting" role="status">
            {t.app.loading}
          </p>
        )}
        {status.kind === 'failed' && (
          <div class="banner bad" role="alert">
            <Icon name="lacking" />
            <span>
              {t.app.failed} {status.reason}
            </span>
            <button type="button" onClick={() => void session.begin(route.projectId)}>
              {t.app.again}
            </button>
          </div>
        )}
        {status.kind === 'ready' && (
          <>
            <SaveTrouble />
            <ConflictBanner />
            <Step />
            <NextStep step={route.step} />
          </>
        )}
      </main>
      <MessageList />
      {isShut && <SignIn door={door} hasWork={status.kind === 'ready'} />}
    </>
  );
}

/** How much is cut, once something is. */
function cutFact(project: Project): string {
  const { done, total } = progressOf(tickParts(project), new Set(project.cutting.ticks));
  return done === 0 ? t.steps.nothingYet : t.steps.cut(done, total);
}

/** The steps in the order of the work, each with what it still lacks. */
function StepNav() {
  const project = useProject();
  const address = useAddress();
  const { step: current } = useStore(useBench().route);
  const run = useStore(useSession().lay.state);
  const lacks = lacksOf(project);
  const copies = totalCopies(project);
  const toLay = lacks.plan.filter(({ kind }) => kind === 'notLaid').length;
  const isLaid = project.materials.some((material) => currentPlan(project, material.id) !== undefined);
  const facts: Readonly<Record<StepName, string>> = {
    pieces: project.pieces.length === 0 ? t.steps.nothingYet : t.steps.pieces(project.pieces.length),
    cutlist: copies === 0 ? t.steps.nothingYet : t.steps.copies(copies),
    cloths: project.cloths.length === 0 ? t.steps.nothingYet : t.steps.cloths(project.cloths.length),
    cut: cutFact(project),
    plan:
      run.kind === 'running'
        ? t.steps.running
        : toLay > 0
          ? t.steps.toLay(toLay)
          : isLaid
            ? t.steps.laidOut
            : t.steps.nothingYet,
  };
  return (
    <nav class="steps" aria-label={t.steps.label}>
      <ol>
        {STEPS.map((step, index) => {
          // What was not begun is no fault: its place says so without a warning.
          const count = lacks[step].filter(({ kind }) => kind !== 'noPieces' && kind !== 'notLaid').length;
          return (
            <li key={step}>
              <a href={address(step)} aria-current={step === current ? 'step' : undefined}>
                <span class="step-number" aria-hidden="true">
                  {index + 1}
                </span>
                <span class="step-text">
                  <span class="step-name">{t.steps.name[step]}</span>
                  <span class="step-fact">
                    {count > 0 ? (
                      <span class="warn">
                        <Icon name="lacking" />
                        <span class="step-lack">{t.steps.lacks(count)}</span>
                        <span class="step-lack-short" aria-hidden="true">
                          {count}
                        </span>
                      </span>
                    ) : (
                      facts[step]
                    )}
                  </span>
                </span>
              </a>
            </li>
          );
        })}
      </ol>
    </nav>
  );
}

function NextStep({ step }: { readonly step: StepName }) {
  const address = useAddress();
  const next = STEPS[STEPS.indexOf(step) + 1];
  const project = useProject();
  if (!next || project.pieces.length === 0) return null;
  return (
    <p class="next-step">
      <a class="button" href={address(next)}>
        {t.steps.next(t.steps.name[next])}
        <Icon name="go" />
      </a>
    </p>
  );
}

function MessageList() {
  const { messages } = useSession();
  const shown = useStore(messages.shown);
  return (
    <div class="messages" role="status" aria-live="polite">
      {shown.map((message) => (
        <div key={message.id} class={`message ${message.tone}`}>
          <span>{message.text}</span>
          {message.action && (
            <button
              type="button"
              onClick={() => {
                messages.dismiss(message.id);
                message.action?.run();
              }}
            >
              {message.action.label}
            </button>
          )}
          <button
            type="button"
            class="quiet"
            aria-label={t.common.close}
            onClick={() => messages.dismiss(message.id)}
          >
            <Icon name="close" />
          </button>
        </div>
      ))}
    </div>
  );
}
