/** What the page does with its service worker. */
export interface OfflineEvents {
  /** From now on the worker sees what the page asks for: what is open can be asked for again, to be kept. */
  onReady(): void;
  /** The server has a newer page than this one. */
  onNewer(): void;
}

/**
 * Has the browser keep the page for when the server is away. Browsers do that on this machine's own address and over
 * https alone; elsewhere, and where it is forbidden, nothing happens.
 * @param script address of the page's own script, by which it knows its build
 */
export async function keepPage(script: string, events: OfflineEvents): Promise<void> {
  const container = navigator.serviceWorker as ServiceWorkerContainer | undefined;
  if (container === undefined) return;
  const look = async (): Promise<void> => {
    const { controller } = container;
    if (!controller) return;
    if (await isOfBuild(controller, new URL(script, location.href).pathname)) events.onReady();
    else events.onNewer();
  };
  container.addEventListener('controllerchange', () => void look());
  try {
    await container.register('/sw.js');
  } catch {
    // Private windows and some settings forbid it; the page works all the same.
  }
}

function isOfBuild(worker: ServiceWorker, script: string): Promise<boolean> {
  return new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = (event: MessageEvent<boolean>) => resolve(event.data);
    worker.postMessage(script, [port2]);
  });
}
