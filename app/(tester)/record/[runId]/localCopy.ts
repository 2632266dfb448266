import type { RunForm } from '@/lib/run/runForm';

/** What was typed here and the server does not have yet, with the version that it was typed over. */
export interface LocalCopy {
  version: number;
  form: RunForm;
  /** What the server held when it was typed, to tell what was changed here; none in copies of earlier releases. */
  base?: RunForm | undefined;
}

/** The part of the browser's storage that this needs. */
export type TextStorage = Pick<Storage, 'getItem' | 'setItem' | 'removeItem'>;

const keyOf = (runId: string): string => `evenloop-draft-${runId}`;

/** False where the browser keeps nothing (private windows, full storage): the autosave then stands alone. */
export function keepCopy(storage: TextStorage, runId: string, copy: LocalCopy): boolean {
  try {
    storage.setItem(keyOf(runId), JSON.stringify(copy));
    return true;
  } catch {
    return false;
  }
}

export function readCopy(storage: TextStorage, runId: string): LocalCopy | undefined {
  try {
    return copyFrom(JSON.parse(storage.getItem(keyOf(runId)) ?? 'null'));
  } catch {
    return undefined;
  }
}

export function dropCopy(storage: TextStorage, runId: string): void {
  try {
    storage.removeItem(keyOf(runId));
  } catch {
    // Nothing was kept, so nothing is left behind.
  }
}

/** Storage can hold anything: only a number and a flat map of texts is taken. */
function copyFrom(value: unknown): LocalCopy | undefined {
  if (typeof value !== 'object' || value === null || !('version' in value) || !('form' in value))
    return undefined;
  const { version, form } = value;
  const typed = textsOf(form);
  if (typeof version !== 'number' || typed === undefined) return undefined;
  const base = 'base' in value ? textsOf(value.base) : undefined;
  return { version, form: typed, ...(base === undefined ? {} : { base }) };
}

function textsOf(value: unknown): RunForm | undefined {
  if (typeof value !== 'object' || value === null) return undefined;
  const texts = Object.entries(value).filter(
    (entry): entry is [string, string] => typeof entry[1] === 'string',
  );
  return Object.fromEntries(texts);
}
