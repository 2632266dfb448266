import { describe, expect, it } from 'vitest';
import { wordsOfAct } from '@/lib/trail/acts';
import { detailWords } from '@/lib/trail/detailWords';

describe('details in words', () => {
  it.each([
    [{ draftVersion: 3 }, 'draft version: 3'],
    [{ evidenceId: '0199a000-0000-7000-8000-000000000002' }, ''],
    [{ kind: 'startDisplay', sha256: 'ab'.repeat(32) }, 'kind: startDisplay; sha256: abababab'],
    [{ massKg: { before: 2000, after: null } }, 'mass Kg: 2000 → nothing'],
    [{ rules: ['wind', 'rain'], note: '' }, 'rules: wind, rain'],
    [null, ''],
    [{}, ''],
  ])('%j', (details, words) => {
    expect(detailWords(details).toLowerCase()).toBe(words.toLowerCase());
  });

  it('is bounded', () => {
    expect(detailWords({ reason: 'x'.repeat(5000) }).length).toBeLessThan(450);
  });

  it('keeps an act without words as it is', () => {
    expect(wordsOfAct('run.submit')).toBe('Submitted');
    for (const act of ['run.ofOld', 'constructor']) expect(wordsOfAct(act)).toBe(act);
  });
});
