import { type FieldDay, hasDayContent } from './fieldDay';
import { type FieldPhoto, type FieldRun, hasContent } from './fieldRun';
import { isSameForm, type KeptForm } from './keptForm';

/** What of a form goes next: it is opened, saved, or waits for the tester or has all been sent. */
type FormStep = 'open' | 'save' | 'nothing';

/** The next thing to send of a run. */
export type Send = { kind: FormStep } | { kind: 'photo'; runId: string; photo: FieldPhoto };

function isRefused({ refusal, form }: KeptForm): boolean {
  return refusal !== undefined && isSameForm(refusal.form, form);
}

function nextOfForm(kept: KeptForm, hasContent: boolean): FormStep {
  const { server, underway, conflict } = kept;
  if (conflict !== undefined) return 'nothing';
  // What left without an answer goes first, as it was: only then is it known what the server holds.
  const isWaiting = underway !== undefined;
  if (server === undefined) return isWaiting || (!isRefused(kept) && hasContent) ? 'open' : 'nothing';
  return isWaiting || (!isRefused(kept) && !isSameForm(kept.form, server.form)) ? 'save' : 'nothing';
}

export function nextSend(run: FieldRun, photos: readonly FieldPhoto[]): Send {
  const { server, conflict } = run;
  const kind = nextOfForm(run, hasContent(run, photos));
  if (kind !== 'nothing' || server === undefined || conflict !== undefined) return { kind };
  const photo = photos.find((one) => one.sentAtMs === undefined && one.refusal === undefined);
  return photo === undefined ? { kind } : { kind: 'photo', runId: server.runId, photo };
}

/** The sheet of a day is opened with what was chosen for it, or with the first of its runs. */
export function nextOfDay(day: FieldDay): FormStep {
  return nextOfForm(day, hasDayContent(day));
}

export type Kept = 'empty' | 'kept' | 'sent' | 'conflict' | 'refused';

function stateOf(kept: KeptForm, next: Send['kind']): Kept {
  if (kept.conflict !== undefined) return 'conflict';
  if (isRefused(kept)) return 'refused';
  if (next !== 'nothing') return 'kept';
  return kept.server === undefined ? 'empty' : 'sent';
}

/** Where a run is: on this phone only, or with the server too. */
export function keptState(run: FieldRun, photos: readonly FieldPhoto[]): Kept {
  const state = stateOf(run, nextSend(run, photos).kind);
  return state === 'sent' && photos.some((photo) => photo.refusal !== undefined) ? 'refused' : state;
}

export function dayState(day: FieldDay): Kept {
  return stateOf(day, nextOfDay(day));
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

export function dayKeptWords(day: FieldDay): string {
  return WORDS[dayState(day)];
}

/** May what the phone keeps of this run be wiped without losing anything? */
export function mayWipe(run: FieldRun, photos: readonly FieldPhoto[]): boolean {
  return isSafe(keptState(run, photos));
}

/** A day that is over and sent is let go, once no run on the phone needs it. */
export function mayForget(day: FieldDay, runs: readonly FieldRun[], today: string): boolean {
  const isNeeded = runs.some(({ dayKey }) => dayKey === day.key);
  return day.localDate < today && !isNeeded && isSafe(dayState(day));
}

function isSafe(state: Kept): boolean {
  return state === 'sent' || state === 'empty';
}
