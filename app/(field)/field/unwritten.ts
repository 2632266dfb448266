import type { FieldRun } from './fieldRun';

/**
 * What was typed and is not known to be in the phone's database yet. That database answers in its own time, and a page
 * that is closed or reloaded within those milliseconds would lose the last keystrokes; this store is written at once.
 */
type Typed = Pick<FieldRun, 'form' | 'step' | 'startedAtMs' | 'finishedAtMs'>;

const prefixOf = (accountId: string) => `evenloop-field-unwritten:${accountId}:`;

/** Notes the run as it now stands, before the page does anything else. */
export function noteUnwritten(storage: Storage, run: FieldRun): void {
  const { form, step, startedAtMs, finishedAtMs } = run;
  const typed: Typed = { form, step, startedAtMs, finishedAtMs };
  try {
    storage.setItem(prefixOf(run.accountId) + run.key, JSON.stringify(typed));
  } catch {
    // Full, or forbidden by the browser: the database alone has to do.
  }
}

/** The database has it. */
export function forgetUnwritten(storage: Storage, run: Pick<FieldRun, 'accountId' | 'key'>): void {
  storage.removeItem(prefixOf(run.accountId) + run.key);
}

/** What a page that went away too soon left behind, as changes to be made to the runs by their keys. */
export function unwrittenOf(storage: Storage, accountId: string): Map<string, (run: FieldRun) => FieldRun> {
  const prefix = prefixOf(accountId);
  const changes = new Map<string, (run: FieldRun) => FieldRun>();
  for (let index = 0; index < storage.length; index += 1) {
    const name = storage.key(index);
    if (name === null || !name.startsWith(prefix)) continue;
    const typed = parse(storage.getItem(name));
    if (typed !== undefined) changes.set(name.slice(prefix.length), (run) => ({ ...run, ...typed }));
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
