import { idOrNothing } from './readView';

/** The path of a first run, where it waits for what is added. */
export const FIRST_RUN = 'first';

/** What waits for the thing that a form adds: the draft of a run by its id, or the path of the first run. */
export function waitingFor(text: string | string[] | undefined): string | undefined {
  return text === FIRST_RUN ? FIRST_RUN : idOrNothing(text);
}

/** Back to what waits; the path of the first run takes along what was added. */
export function waitingHref(waiting: string, added: Readonly<Record<string, string>> = {}): string {
  if (waiting !== FIRST_RUN) return `/record/${waiting}`;
  const query = new URLSearchParams(added).toString();
  return `/record/first${query === '' ? '' : `?${query}`}#next`;
}
