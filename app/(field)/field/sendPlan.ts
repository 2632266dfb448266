import { type FieldPhoto, type FieldRun, hasContent, isSameForm } from './fieldRun';

/** The next thing to send of a run; `nothing` while it waits for the tester or has all been sent. */
export type Send =
  | { kind: 'open' }
  | { kind: 'form'; runId: string; version: number }
  | { kind: 'photo'; runId: string; photo: FieldPhoto }
  | { kind: 'nothing' };

export function nextSend(run: FieldRun, photos: readonly FieldPhoto[]): Send {
  const { server, underway } = run;
  if (run.conflict !== undefined) return { kind: 'nothing' };
  const isRefused = run.refusal !== undefined && isSameForm(run.refusal.form, run.form);
  // What left without an answer goes first, as it was: only then is it known what the server holds.
  const isWaiting = underway !== undefined;
  if (server === undefined) {
    const mayOpen = isWaiting || (!isRefused && hasContent(run, photos));
    return mayOpen ? { kind: 'open' } : { kind: 'nothing' };
  }
  if (isWaiting || (!isRefused && !isSameForm(run.form, server.form))) {
    return { kind: 'form', runId: server.runId, version: server.version };
  }
  const photo = photos.find((one) => one.sentAtMs === undefined && one.refusal === undefined);
  return photo === undefined ? { kind: 'nothing' } : { kind: 'photo', runId: server.runId, photo };
}

export type Kept = 'empty' | 'kept' | 'sent' | 'conflict' | 'refused';

/** Where a run is: on this phone only, or with the server too. */
export function keptState(run: FieldRun, photos: readonly FieldPhoto[]): Kept {
  if (run.conflict !== undefined) return 'conflict';
  if (run.refusal !== undefined && isSameForm(run.refusal.form, run.form)) return 'refused';
  if (nextSend(run, photos).kind !== 'nothing') return 'kept';
  if (run.server === undefined) return 'empty';
  return photos.some((photo) => photo.refusal !== undefined) ? 'refused' : 'sent';
}

const WORDS: Readonly<Record<Kept, string>> = {
  empty: 'Nothing to send yet',
  kept: 'Kept on this phone, not sent yet',
  sent: 'Sent',
  conflict: 'Changed elsewhere: yours to choose',
  refused: 'Kept on this phone: the server did not take it',
};

export function keptWords(run: FieldRun, photos: readonly FieldPhoto[]): string {
  const state = keptState(run, photos);
  return state === 'sent' && run.server ? `Sent as run ${run.server.number}` : WORDS[state];
}

/** May what the phone keeps of this run be wiped without losing anything? */
export function mayWipe(run: FieldRun, photos: readonly FieldPhoto[]): boolean {
  const state = keptState(run, photos);
  return state === 'sent' || state === 'empty';
}
