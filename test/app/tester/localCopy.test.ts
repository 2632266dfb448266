import { describe, expect, it } from 'vitest';
import { dropCopy, keepCopy, readCopy, type TextStorage } from '@/app/(tester)/record/[runId]/localCopy';

function memory(): TextStorage & { texts: Map<string, string> } {
  const texts = new Map<string, string>();
  return {
    texts,
    getItem: (key) => texts.get(key) ?? null,
    setItem: (key, value) => void texts.set(key, value),
    removeItem: (key) => void texts.delete(key),
  };
}

const full: TextStorage = {
  getItem: () => null,
  setItem: () => {
    throw new DOMException('full', 'QuotaExceededError');
  },
  removeItem: () => {
    throw new DOMException('closed', 'SecurityError');
  },
};

describe('the copy that the browser keeps', () => {
  it('comes back as it was kept, for its own run only', () => {
    const storage = memory();
    expect(keepCopy(storage, 'a', { version: 2, form: { notes: 'windy' } })).toBe(true);
    expect(readCopy(storage, 'a')).toEqual({ version: 2, form: { notes: 'windy' } });
    expect(readCopy(storage, 'b')).toBeUndefined();
    dropCopy(storage, 'a');
    expect(readCopy(storage, 'a')).toBeUndefined();
  });

  it('takes nothing but texts out of what may stand there', () => {
    const storage = memory();
    keepCopy(storage, 'a', { version: 2, form: {} });
    const [key = ''] = storage.texts.keys();
    for (const [stored, expected] of [
      ['not json', undefined],
      ['[]', undefined],
      ['{"version":"2","form":{}}', undefined],
      ['{"version":2,"form":{"notes":"ok","chargeEnd":5,"x":null}}', { version: 2, form: { notes: 'ok' } }],
    ] as const) {
      storage.texts.set(key, stored);
      expect(readCopy(storage, 'a')).toEqual(expected);
    }
  });

  it('does without a storage that is full or closed', () => {
    expect(keepCopy(full, 'a', { version: 1, form: {} })).toBe(false);
    expect(() => dropCopy(full, 'a')).not.toThrow();
  });
});
