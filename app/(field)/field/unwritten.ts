import type { FieldDay } from './fieldDay';
import type { FieldRun } from './fieldRun';
import type { KeptForm } from './keptForm';

/**
 * What was typed and is not known to be in the phone's database yet. That database answers in its own time, and a page
 * that is closed or reloaded within those milliseconds would lose the last keystrokes; this store is written at once.
 */
type Typed = Pick<KeptForm, 'form'> & Partial<Pick<FieldRun, 'step' | 'startedAtMs' | 'finishedAtMs'>>;

/** Onto the older copy of the database. */
export type Restore = <Kept extends KeptForm>(kept: Kept) => Kept;

const prefixOf = (accountId: string) => `evenloop-field-unwritten:${accountId}:`;

/** Notes the run, or the day, as it now stands, before the page does anything else. */
export function noteUnwritten(storage: Storage, kept: FieldRun | FieldDay): void {
  try {
    storage.setItem(prefixOf(kept.accountId) + kept.key, JSON.stringify(typedOf(kept)));
  } catch {
    // Full, or forbidden by the browser: the database alone has to do.
  }
}

function typedOf(kept: FieldRun | FieldDay): Typed {
  const { form } = kept;
  if (!('step' in kept)) return { form };
  const { step, startedAtMs, finishedAtMs } = kept;
  return { form, step, startedAtMs, finishedAtMs };
}

/** The database has it. */
export function forgetUnwritten(storage: Storage, kept: Pick<KeptForm, 'accountId' | 'key'>): void {
  storage.removeItem(prefixOf(kept.accountId) + kept.key);
}

/** What a page that went away too soon left behind, as changes to be made to runs and days by their keys. */
export function unwrittenOf(storage: Storage, accountId: string): Map<string, Restore> {
  const prefix = prefixOf(accountId);
  const changes = new Map<string, Restore>();
  for (let index = 0; index < storage.length; index += 1) {
    const name = storage.key(index);
    if (name === null || !name.startsWith(prefix)) continue;
    const typed = parse(storage.getItem(name));
    if (typed !== undefined) changes.set(name.slice(prefix.length), (kept) => ({ ...kept, ...typed }));
  }
  return changes;
}

function parse(text: string | null): Typed | undefined {
  try {
    return text === null ? undefined : (JSON.parse(text) as Typed);
  } catch {
    return undefined;
  }
}
