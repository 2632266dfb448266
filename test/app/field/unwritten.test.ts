import { beforeEach, describe, expect, it } from 'vitest';
import type { FieldRun } from '@/app/(field)/field/fieldRun';
import { forgetUnwritten, noteUnwritten, unwrittenOf } from '@/app/(field)/field/unwritten';

/** The Web Storage interface (HTML standard, 12.2.1) over a map. */
class MapStorage implements Storage {
  readonly #items = new Map<string, string>();
  get length(): number {
    return this.#items.size;
  }
  key(index: number): string | null {
    return [...this.#items.keys()][index] ?? null;
  }
  getItem(name: string): string | null {
    return this.#items.get(name) ?? null;
  }
  setItem(name: string, value: string): void {
    this.#items.set(name, value);
  }
  removeItem(name: string): void {
    this.#items.delete(name);
  }
  clear(): void {
    this.#items.clear();
  }
}

const run = (form: FieldRun['form'], changes: Partial<FieldRun> = {}): FieldRun => ({
  key: 'run-1',
  accountId: 'anouk',
  createdAtMs: 0,
  step: 'turnaround',
  form,
  ...changes,
});

describe('what a page that is closed too soon had typed', () => {
  let storage: MapStorage;
  beforeEach(() => {
    storage = new MapStorage();
  });

  it('comes back onto the older copy of the database, without what the server is known to hold', () => {
    noteUnwritten(storage, run({ outboundDistance: '53.2' }, { startedAtMs: 5 }));
    const server = { runId: 'r', number: 1, version: 3, form: {} };
    const restored = unwrittenOf(storage, 'anouk').get('run-1')?.(
      run({ outboundDistance: '53' }, { server }),
    );
    expect(restored).toEqual(run({ outboundDistance: '53.2' }, { startedAtMs: 5, server }));
  });

  it('belongs to its account and is gone once written', () => {
    noteUnwritten(storage, run({ notes: 'mine' }));
    expect(unwrittenOf(storage, 'bram').size).toBe(0);
    forgetUnwritten(storage, run({}));
    expect(unwrittenOf(storage, 'anouk').size).toBe(0);
  });

  it('never stands in the way when the store is full or holds something else', () => {
    storage.setItem('evenloop-field-unwritten:anouk:run-2', '{torn');
    storage.setItem = () => {
      throw new DOMException('full', 'QuotaExceededError');
    };
    expect(() => noteUnwritten(storage, run({ notes: 'x' }))).not.toThrow();
    expect(unwrittenOf(storage, 'anouk').size).toBe(0);
  });
});
