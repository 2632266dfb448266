import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { faultOfName, faultOfPersonName, nameField, tidyName } from '@/lib/run/names/publicName';
import { isOfOneWriting } from '@/lib/run/names/scripts';
import { likenessKeys, lookAlike, skeletonOf } from '@/lib/run/names/skeleton';

describe('look-alikes', () => {
  // UTS #39, section 4 and figure 1 ("Confusables"): single-script, mixed-script and whole-script examples.
  it.each([
    ['paypal', 'p\u0430yp\u0430l'],
    ['scope', '\u0455\u0441\u043e\u0440\u0435'],
    ['so\u0337s', 's\u00f8s'],
    ['ljeto', '\u01c9eto'],
    ['rn', 'm'],
  ])('are told by the examples of the standard: %s and %s', (a, b) => {
    expect(skeletonOf(a)).toBe(skeletonOf(b));
  });

  it('are told where a capital stands for a small letter, or a digit for a capital', () => {
    expect(lookAlike('paypal', 'paypaI')).toBe(true);
    expect(lookAlike('OSLO', '0SL0')).toBe(true);
    expect(lookAlike('Ilse Varga', 'ilse varga')).toBe(true);
    expect(lookAlike('Ilse Varga', 'Ilse-Varga')).toBe(true);
    expect(lookAlike('Ilse Varga', '\u0406lse Varga')).toBe(true);
  });

  it('are not seen in names that differ to the eye', () => {
    for (const [a, b] of [
      ['Ella', 'Elia'],
      ['Neil', 'Nell'],
      ['Tarn', 'Fell'],
      ['Skerry 40', 'Skerry 50'],
      ['Søren', 'Sören'],
    ] as const)
      expect(lookAlike(a, b), `${a} ${b}`).toBe(false);
  });

  it('skeletons are stable for what has no look-alike, and no key is longer than the index takes', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme', maxLength: 120 }), (text) => {
        expect(lookAlike(text, text)).toBe(true);
        expect(skeletonOf(text)).toBe(skeletonOf(text.normalize('NFC')));
        for (const key of likenessKeys(text)) expect(key.length).toBeLessThanOrEqual(400);
      }),
    );
  });
});

describe('scripts of a word', () => {
  // UTS #39, 5.1, table 1a: which strings are of a single script, by their resolved script sets; and 5.2 for the levels.
  it.each([
    ['Circle', true],
    ['\u0421\u0456\u0433\u0441\u04c0\u0435', true],
    ['\u0421irc\u04c0e', false],
    ['Circ1e', true],
    ['C\u{1d5a2}ircle', true],
    ['\u306d\u304c', true],
    ['\u306d\u30ac\u6f22', true],
    ['\u7530\u4e2dABC', true],
    ['\u03b1lpha', false],
  ])('%s: %s', (word, isOne) => {
    expect(isOfOneWriting(word)).toBe(isOne);
  });
});

describe('names of things', () => {
  it.each([
    'Tarn Works',
    'Škoda-Straße 7½',
    'Rīga–Jūrmala',
    'Кольцо север',
    '田中 ループ',
    '19" all-terrain',
    'Model α',
    'low (−20 mm)',
    'ÅLESUND & CO',
  ])('are taken: %s', (name) => {
    expect(faultOfName(tidyName(name))).toBeUndefined();
  });

  it.each([
    ['a null', 'Tarn\u0000'],
    ['a break of lines', 'Tarn\nWorks'],
    ['right-to-left override', 'Tarn\u202eskroW'],
    ['an isolate', 'Tarn\u2067Works'],
    ['zero width space', 'Ta\u200brn'],
    ['zero width joiner', 'Ta\u200drn'],
    ['a soft hyphen', 'Ta\u00adrn'],
    ['a byte order mark', 'Ta\ufeffrn'],
    ['a tag character', 'Tarn\u{e0041}'],
    ['a variation selector', 'Tarn\ufe0f'],
    ['Hangul filler', 'Tarn\u3164'],
    ['half a pair', 'Tarn\ud800'],
    ['private use', 'Tarn\ue000'],
    ['piled-up accents', 'T\u0300\u0301\u0302\u0303\u0304arn'],
    ['the same accent twice', 'Ta\u0328\u0328rn'],
    ['an accent before everything', '\u0301Tarn'],
    ['Latin and Cyrillic in one word', 'T\u0430rn'],
    ['Latin and Greek in one word', 'Tarn\u03bf'],
    ['letters of a dead script', '\u{10330}\u{10331}'],
  ])('are refused with %s', (_why, name) => {
    expect(faultOfName(tidyName(name))).toBeDefined();
  });

  it('are one form, however they were typed', () => {
    expect(tidyName('  A\u030alesund\u00a0 \u2003Ring ')).toBe('Ålesund Ring');
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), (text) => {
        const tidy = tidyName(text);
        expect(tidyName(tidy)).toBe(tidy);
      }),
    );
  });

  it('say at their field what, why and what to do', () => {
    const field = nameField({ least: 2, most: 10, tooShort: 'short | a | b', tooLong: 'long | a | b' });
    expect(field.parse(' Tarn  Works ')).toBe('Tarn Works');
    for (const text of ['T', 'T'.repeat(11), 'x'.repeat(5_000), 'Ta\u200brn'])
      expect(field.safeParse(text).error?.issues[0]?.message.split(' | ')).toHaveLength(3);
  });
});

describe('names of people', () => {
  it.each([
    'Ilse Varga',
    'Seán O’Brien',
    "D'Arcy-Smith Jr.",
    'Иван',
    '田中',
    'Stewardson',
    'Ann Demone',
    'R2',
  ])('are taken: %s', (name) => {
    expect(faultOfPersonName(name)).toBeUndefined();
  });

  it.each([
    'Petra (steward)',
    'Steward',
    'Petra STEWARD',
    'Petra \u0405t\u0435ward',
    'S t e w a r d',
    'Evenl00p',
    'Anouk ✓',
    'Anouk ★',
    'Anouk [demo]',
    'Demo',
    '12345',
    '<b>Anouk</b>',
  ])('are refused: %s', (name) => {
    expect(faultOfPersonName(name)).toBeDefined();
  });
});
