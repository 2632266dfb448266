import { describe, expect, it } from 'vitest';
import { looksFigure } from '@/app/(public)/studies/[slug]/looksFigure';
import { answerOf } from '@/lib/answers/answer';
import { differencePlace, endsText } from '@/lib/answers/differenceText';
import { numbersOf } from '@/lib/answers/studyParagraph';
import { percentEnds } from '@/lib/stats/orientedContrast';
import type { ContrastStanding } from '@/lib/study/standing';
import { DEFAULT_PREFERENCES } from '@/lib/units/display';

const running = { difference: -0.03, interval: [-0.05, -0.01], level: 'runs' } as const;
const planned = { difference: -0.029, interval: [-0.04, -0.018], level: 'sessions' } as const;
type Bound = NonNullable<ContrastStanding['planned']>;

const contrast = (atEnd: Bound | null): ContrastStanding => ({
  setupId: 'low',
  looks: [{ sessionId: 's', day: '2026-05-12', sessionDifference: -0.03, bound: running as never }],
  running: running as never,
  planned: atEnd,
  shown: atEnd ?? (running as never),
  sessions: 1,
  lower: 1,
  runs: 4,
  cars: 1,
  testers: 1,
  moreDays: null,
});

const view = {
  model: { words: 'Tarn Works Skerry 2025', slug: 'skerry' },
  classLabel: '110 km/h',
  slug: 'low-ride-height',
  asOf: new Date('2026-06-01'),
  world: 'demo',
} as never;

describe.each([
  ['while it runs', null],
  ['when all that was planned was driven', planned as unknown as Bound],
])('a study’s figure %s', (_, atEnd) => {
  const one = contrast(atEnd);
  const names = { setup: 'Ride height: low', baseline: 'As delivered' };
  const answer = answerOf(numbersOf(one), names, DEFAULT_PREFERENCES);
  const { drawing, table } = looksFigure(view, one, names, answer, DEFAULT_PREFERENCES);

  it('draws the interval that the answer states, last, and has it in the table', () => {
    if (drawing.kind !== 'interval') throw new Error('nothing drawn');
    const last = drawing.rows.at(-1);
    const stated = percentEnds(one.shown?.interval ?? null) as [number, number];
    expect([last?.low, last?.high]).toEqual(stated);
    const place = differencePlace(numbersOf(one), DEFAULT_PREFERENCES);
    expect(last?.intervalText).toBe(endsText(stated, DEFAULT_PREFERENCES, place));
    expect(table.rows.at(-1)).toContain(last?.intervalText);
    expect(table.rows).toHaveLength(drawing.rows.length);
    expect(table.columns).toHaveLength(table.rows[0]?.length ?? 0);
  });
});
