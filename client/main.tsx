import { render } from 'preact';
import { explain } from './api/explain.ts';
import { onSignInNeeded } from './api/http.ts';
import { cancelLay, requestLay, watchLay } from './api/lays.ts';
import {
  createProject,
  deleteProject,
  listProjects,
  listVersions,
  readProject,
  readProjectNow,
  readVersion,
  restoreProject,
  writeProject,
} from './api/projects.ts';
import { readSession, signIn } from './api/session.ts';
import { keepPage } from './offline/register.ts';
import { BrowserDeepStore } from './state/deepStore.ts';
import { Door, keyInAddress } from './state/door.ts';
import { readTicket } from './state/layRun.ts';
import { type ListedStorage, LocalKeep, type TextStorage } from './state/localKeep.ts';
import { Messages } from './state/messages.ts';
import { readRoute, type StepName, writeRoute } from './state/route.ts';
import { Session } from './state/session.ts';
import { StepLog } from './state/stepLog.ts';
import { BrowserStepStore } from './state/stepStore.ts';
import { Store } from './state/store.ts';
import { language, t } from './strings/index.ts';
import { applyTheme, readTheme } from './theme.ts';
import { App } from './views/App.tsx';
import { keepFocus } from './views/shared/keepFocus.ts';
import { fetchTheRest } from './views/shared/lazyView.tsx';
import { STEP_VIEWS } from './views/steps.ts';

/** Puts the page together: the session with the real server, clock and storage, the address, and what leaves with the page. */

const LAST_PROJECT = 'clothlay.lastProject';
const TAB = 'clothlay.tab';
const RUNNING_LAY = 'clothlay.runningLay';
/** The first step is drawn and taken hold of before anything else is fetched. */
const FOLLOW_UP_MS = 500;

/** Storage may be forbidden altogether; then nothing is kept, and the page works all the same. */
function storageOr(get: () => Storage): Storage | null {
  try {
    return get();
  } catch {
    return null;
  }
}

/** As storage, databases may be forbidden. */
function databases(): IDBFactory | null {
  try {
    return globalThis.indexedDB ?? null;
  } catch {
    return null;
  }
}

const local: ListedStorage | null = storageOr(() => localStorage);
const visit = storageOr(() => sessionStorage);
const keepQuietly = (storage: TextStorage | null, key: string, value: string): void => {
  try {
    storage?.setItem(key, value);
  } catch {
    // What is kept here only saves a step at the next visit.
  }
};
const later = (ms: number, callback: () => void): (() => void) => {
  const timer = setTimeout(callback, ms);
  return () => clearTimeout(timer);
};

/** A name of this tab that it has again after a reload, by which its unsent work is kept apart from other tabs'. */
function tabName(): string {
  const fresh = crypto.getRandomValues(new Uint32Array(2)).join('-');
  const name = visit?.getItem(TAB) ?? fresh;
  keepQuietly(visit, TAB, name);
  return name;
}

const messages = new Messages(later);
const steps = new StepLog(
  {
    store: new BrowserStepStore(databases()),
    later,
    now: () => new Date().toISOString(),
    onTrouble: () => messages.say(t.session.stepsNotKept),
  },
  crypto.getRandomValues(new Uint32Array(2)).join('-'),
);
const session = new Session({
  projects: {
    list: listProjects,
    read: readProject,
    readNow: readProjectNow,
    create: createProject,
    remove: deleteProject,
    restore: restoreProject,
    versions: listVersions,
    version: readVersion,
    explain,
  },
  saving: { send: writeProject, later, now: () => performance.now() },
  laying: {
    request: requestLay,
    watch: watchLay,
    cancel: cancelLay,
    now: () => new Date().toISOString(),
    explain,
    remember: (ticket) => keepQuietly(visit, RUNNING_LAY, JSON.stringify(ticket)),
    forget: () => visit?.removeItem(RUNNING_LAY),
    words: { lost: t.session.layLost, failed: t.session.layFailed },
  },
  keep: new LocalKeep(local, new BrowserDeepStore(databases()), Date.now, tabName()),
  steps,
  messages,
  remember: (projectId) => keepQuietly(local, LAST_PROJECT, projectId),
  recall: () => local?.getItem(LAST_PROJECT) ?? null,
  words: t.session,
});

const door = new Door();
onSignInNeeded(() => door.closes());
door.state.watch(() => {
  if (door.state.value === 'open') void goOn();
});

/** After signing in: the project is opened, or the work under way goes on. */
async function goOn(): Promise<void> {
  if (session.status.value.kind === 'ready') await session.autosave.flush();
  else await session.begin(route.value.projectId).then(resumeLay);
}

/** A key that came in the address is used and taken out of it: it must not stay in sight or in the history. */
async function takeKey(): Promise<void> {
  const key = keyInAddress(location.hash);
  if (key === null) return;
  history.replaceState(null, '', location.pathname);
  route.set(readRoute(''));
  await signIn(key).catch(() => {});
}

const route = new Store(readRoute(location.hash));
// The step asked for is fetched beside the project; where that fails, it is asked for again when it is shown.
STEP_VIEWS[route.value.step].fetch().catch(() => {});

/** The address follows the project that is open; a project asked for in the address is opened. */
function followAddress(): void {
  const wanted = readRoute(location.hash);
  const { projectId } = session;
  if (projectId !== '' && wanted.projectId !== '' && wanted.projectId !== projectId) {
    session.attempt(() => session.open(wanted.projectId));
  }
  route.set({ ...wanted, projectId: wanted.projectId === '' ? projectId : wanted.projectId });
}

function followProject(): void {
  const status = session.status.value;
  if (status.kind !== 'ready' || route.value.projectId === status.projectId) return;
  const wasAsked = readRoute(location.hash).projectId === status.projectId;
  const next = wasAsked
    ? { ...route.value, projectId: status.projectId }
    : { projectId: status.projectId, step: stepToOpenAt(), open: null };
  history.replaceState(null, '', writeRoute(next));
  route.set(next);
}

/** Another project opens at the step the maker is at, one without pieces at where they come in. */
function stepToOpenAt(): StepName {
  return session.project.pieces.length === 0 ? 'pieces' : route.value.step;
}

/** Once the first step is there, the others follow, so that none has to be waited for, or is missing without the server. */
function followUp(): void {
  if (session.status.value.kind !== 'ready') return;
  stopWaiting();
  later(FOLLOW_UP_MS, () => void fetchTheRest());
}

function resumeLay(): void {
  const ticket = readTicket(visit?.getItem(RUNNING_LAY) ?? '');
  if (ticket?.projectId === session.projectId) session.lay.resume(ticket);
}

addEventListener('hashchange', followAddress);
session.status.watch(followProject);
const stopWaiting = session.status.watch(followUp);
addEventListener('online', () => void session.autosave.flush());
addEventListener('pagehide', () => {
  session.lay.recordSoFar();
  session.autosave.keepHere();
  void session.autosave.flush();
  void steps.flush();
});
addEventListener('beforeunload', (event) => {
  // Asked only where work would be lost: neither sent nor kept here.
  if (!session.autosave.isSettled && !session.autosave.keepHere()) event.preventDefault();
});
document.addEventListener('visibilitychange', () => {
  if (document.visibilityState === 'visible') void session.others.lookForNews();
  else void session.autosave.flush();
});

/** Undo and redo belong to the document, unless a field holds something typed and not yet taken over. */
addEventListener('keydown', (event) => {
  if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
  const key = event.key.toLowerCase();
  const isUndo = key === 'z' && !event.shiftKey;
  const isRedo = (key === 'z' && event.shiftKey) || key === 'y';
  if (!isUndo && !isRedo) return;
  const { target } = event;
  const isText = target instanceof HTMLTextAreaElement;
  const isOpenField = target instanceof HTMLInputElement && target.hasAttribute('data-open');
  if (isText || isOpenField) return;
  event.preventDefault();
  if (isUndo) session.undo();
  else session.redo();
});

document.documentElement.lang = language;
applyTheme(readTheme());
keepFocus();
const root = document.getElementById('app');
if (!root) throw new Error('index.html has no #app');
render(<App bench={{ session, route, door }} />, root);
void begin();
// The page in development is made anew at every change: there is nothing to keep.
if (import.meta.env.PROD) {
  void keepPage(import.meta.url, {
    onReady: () => {
      if (session.projectId === '') return;
      void session.refreshList().catch(() => {});
      void readProject(session.projectId).catch(() => {});
    },
    onNewer: () => {
      const run = (): void => void session.autosave.flush().then(() => location.reload());
      messages.say(t.session.newerPage, { action: { label: t.session.loadAnew, run } });
    },
  });
}

async function begin(): Promise<void> {
  await takeKey();
  const state = await readSession().catch(() => null);
  if (state?.required) door.isGuarded.set(true);
  if (state?.signedIn === false) door.closes();
  else await goOn();
}
