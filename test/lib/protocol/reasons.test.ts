import { describe, expect, it } from 'vitest';
import { evaluateRun } from '@/lib/protocol/evaluate';
import { checkReasons, reasonTemplate, requiredReasons, reviewersWords } from '@/lib/protocol/reasons';
import { RULES } from '@/lib/protocol/rules/allRules';
import { NEWEST_VERSION } from '@/lib/protocol/versions/newestVersion';
import { GOOD_RUN, withRecord } from './exampleFacts';

const wetAndDense = evaluateRun(
  withRecord({ road: 'wet', precipitation: 'rain', traffic: 'dense' }),
  NEWEST_VERSION,
);
const good = evaluateRun(GOOD_RUN, NEWEST_VERSION);
const pathsOf = (issues: readonly { path: string }[]) => issues.map((issue) => issue.path);

describe('requiredReasons', () => {
  it('asks for every fail, offers the rest gravest first, and loses none', () => {
    const { mustCite, mayCite } = requiredReasons(wetAndDense);
    expect(mustCite.map((choice) => choice.ruleId)).toEqual(['dry-road', 'no-precipitation']);
    expect(mayCite[0]?.ruleId).toBe('traffic');
    expect([...mustCite, ...mayCite].map((choice) => choice.ruleId).sort()).toEqual(
      RULES.map((rule) => rule.id).sort(),
    );
  });

  it('asks for none where none failed', () => {
    expect(requiredReasons(good).mustCite).toEqual([]);
  });
});

describe('reasonTemplate', () => {
  it('says what was found and what to do', () => {
    const finding = wetAndDense.find((each) => each.ruleId === 'dry-road');
    if (finding === undefined) throw new RangeError('no finding');
    expect(reasonTemplate(finding)).toBe(
      'Dry road: The road was wet. The protocol does not accept this. Repeat on a dry road. Wait until the whole loop is dry.',
    );
  });

  it('does not repeat a pass as if it were the reason', () => {
    const finding = good.find((each) => each.ruleId === 'finish-display-photo');
    if (finding === undefined) throw new RangeError('no finding');
    expect(reasonTemplate(finding)).not.toContain(finding.sentence);
    expect(reasonTemplate(finding)).toContain('Photo of the display at finish');
  });

  it('names a rule that is no more by its id in plain letters', () => {
    const finding = { ruleId: 'long-gone', outcome: 'fail', numbers: [], sentence: 'Was so.' } as const;
    expect(reasonTemplate({ ...finding, numbers: [] })).toBe('Long gone: Was so.');
  });
});

describe('checkReasons', () => {
  const road = { ruleId: 'dry-road', text: 'Wet.' };
  const rain = { ruleId: 'no-precipitation', text: 'Rain.' };

  it('takes all fails, with or without more', () => {
    expect(checkReasons(wetAndDense, [road, rain])).toEqual([]);
    expect(checkReasons(wetAndDense, [road, rain, { ruleId: 'traffic', text: 'Dense.' }])).toEqual([]);
  });

  it('asks for at least one reason where nothing failed', () => {
    expect(pathsOf(checkReasons(good, []))).toEqual(['reasons']);
    expect(checkReasons(good, [{ ruleId: 'finish-display-photo', text: 'Unreadable.' }])).toEqual([]);
  });

  it('names each fail that is not answered', () => {
    expect(pathsOf(checkReasons(wetAndDense, [road]))).toEqual(['reasons.no-precipitation']);
    expect(pathsOf(checkReasons(wetAndDense, []))).toEqual([
      'reasons',
      'reasons.dry-road',
      'reasons.no-precipitation',
    ]);
  });

  it('refuses an unknown rule, an empty text and a rule named twice', () => {
    expect(pathsOf(checkReasons(good, [{ ruleId: 'taste', text: 'No.' }]))).toEqual(['reasons.taste']);
    expect(pathsOf(checkReasons(good, [{ ruleId: 'wind', text: '  ' }]))).toEqual(['reasons.wind']);
    expect(pathsOf(checkReasons(wetAndDense, [road, rain, road]))).toEqual(['reasons']);
  });
});

describe('why a run came back', () => {
  const reasons = [{ text: 'The photo shows\n43 %.' }, { text: 'No wind.' }];

  it('is the note, or the first reason, in one line', () => {
    expect(reviewersWords({ note: '', reasons: reasons.slice(0, 1) })).toBe('The photo shows 43 %.');
    expect(reviewersWords({ note: '', reasons })).toBe('The photo shows 43 %. (and one reason more)');
    expect(reviewersWords({ note: 'See both.', reasons })).toBe('See both. (and 2 reasons more)');
    expect(reviewersWords({ note: ' ', reasons: [] })).toBe('');
  });

  it('is cut where a line ends', () => {
    const words = reviewersWords({ note: 'a '.repeat(400), reasons: [] });
    expect(words.length).toBeLessThanOrEqual(280);
    expect(words.endsWith('…')).toBe(true);
  });
});
