import { type LayRequestInput, type LayState, layStateSchema } from '../../pattern/exchange/lay.ts';
import { layAcceptedSchema } from '../../pattern/exchange/storedProject.ts';
import { language } from '../strings/index.ts';
import { call, HttpProblem } from './http.ts';

/** Asks for a lay. @returns its id; the work goes on in the server */
export async function requestLay(request: LayRequestInput): Promise<string> {
  return (await call('POST', '/api/lays', layAcceptedSchema, { ...request, language })).id;
}

/** Ends a lay. @returns its last state, or null if the server has forgotten it */
export async function cancelLay(id: string): Promise<LayState | null> {
  try {
    return await call('DELETE', `/api/lays/${encodeURIComponent(id)}`, layStateSchema);
  } catch (error) {
    if (error instanceof HttpProblem && error.status === 404) return null;
    throw error;
  }
}

/** A watched lay was lost: the server forgot it or went away. */
export type LayLost = 'lost';

function hasEnded(state: LayState): boolean {
  return state.state === 'done' || state.state === 'cancelled' || state.state === 'failed';
}

/**
 * Follows a lay by server-sent events until it has ended. A broken connection is taken up again by the browser;
 * if it can't be, the state is asked for once more before the lay counts as lost.
 * @returns a function that ends the watching
 */
export function watchLay(
  id: string,
  onState: (state: LayState) => void,
  onLost: (lost: LayLost) => void,
): () => void {
  const address = `/api/lays/${encodeURIComponent(id)}`;
  const source = new EventSource(`${address}/events`);
  let over = false;
  const end = (): void => {
    over = true;
    source.close();
  };
  source.onmessage = (event: MessageEvent<string>) => {
    if (over) return;
    const state = layStateSchema.parse(JSON.parse(event.data));
    if (hasEnded(state)) end();
    onState(state);
  };
  source.onerror = () => {
    // While the browser reconnects by itself there is nothing to do.
    if (over || source.readyState !== EventSource.CLOSED) return;
    end();
    call('GET', address, layStateSchema).then(
      (state) => (hasEnded(state) ? onState(state) : onLost('lost')),
      () => onLost('lost'),
    );
  };
  return end;
}
