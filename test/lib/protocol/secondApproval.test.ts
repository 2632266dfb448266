import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type ApprovalCircumstances,
  SECOND_REASONS,
  secondReasons,
  secondReasonWords,
} from '@/lib/protocol/secondApproval';

/** A run in the middle of its setup's, by a known tester, read by somebody who seldom reads theirs. */
const PLAIN: ApprovalCircumstances = {
  z: Math.log(260),
  setupId: 'mid',
  own: { setupId: 'mid', logMean: Math.log(258), runs: 9 },
  leaders: [
    { setupId: 'low', logMean: Math.log(240) },
    { setupId: 'next', logMean: Math.log(250) },
  ],
  verdict: 'consistent',
  approvedOfTester: 12,
  latestApprovers: ['b', 'a', 'c', 'b', 'c', 'b', 'c', 'a', 'b', 'c'],
  reviewerId: 'a',
};

const ofSetup = (setupId: string, logMean: number, runs: number) => ({
  setupId,
  own: { setupId, logMean, runs },
});

/** What each case is, and what it asks for. The mean of (n values m, one value z) is m + (z − m)/(n + 1). */
const CASES: readonly [string, Partial<ApprovalCircumstances>, readonly string[]][] = [
  ['a run like the others', {}, []],
  ['a class without a fit', { own: null, leaders: [] }, []],
  ['a run without a number', { z: null }, []],
  // 9 runs at 258 and one of 203: their mean in logarithms is exp((9 ln 258 + ln 203)/10) = 251.9
  ['one low run that leaves the lead where it is', { z: Math.log(203) }, []],
  // two runs at 258 and one of 203: exp((2 ln 258 + ln 203)/3) = 238.2, under the leader's 240
  ['a low run of a setup with few', { z: Math.log(203), ...ofSetup('mid', Math.log(258), 2) }, ['lead']],
  ['a first run under the leader', { z: Math.log(239), own: null, setupId: 'new' }, ['lead']],
  ['a first run over the leader', { z: Math.log(241), own: null, setupId: 'new' }, []],
  // the leader, one run at 240 and one of 270: their mean is 254.6, over the next one's 250
  ['a high run of the leader', { z: Math.log(270), ...ofSetup('low', Math.log(240), 1) }, ['lead']],
  ['a high run of the leader with many', { z: Math.log(270), ...ofSetup('low', Math.log(240), 20) }, []],
  [
    'the only ranked setup cannot lose its lead',
    {
      z: Math.log(300),
      ...ofSetup('low', Math.log(240), 1),
      leaders: [{ setupId: 'low', logMean: Math.log(240) }],
    },
    [],
  ],
  ['a straggler', { verdict: 'straggler' }, ['screening']],
  ['an outlier', { verdict: 'outlier' }, ['screening']],
  ['nothing to screen against', { verdict: null }, []],
  ['the third run of an account', { approvedOfTester: 2, latestApprovers: ['b', 'c'] }, ['firstRuns']],
  ['the fourth run of an account', { approvedOfTester: 3, latestApprovers: ['b', 'c', 'b'] }, []],
  ['half of the ten latest by the same', { latestApprovers: [...'aaaaabbbcc'] }, ['pair']],
  ['four of the ten latest by the same', { latestApprovers: [...'aaaabbbccc'] }, []],
  ['three of three by the same', { approvedOfTester: 3, latestApprovers: [...'aaa'] }, ['pair']],
  [
    'two of two by the same, and the first runs',
    { approvedOfTester: 2, latestApprovers: [...'aa'] },
    ['firstRuns'],
  ],
  ['what was before the ten latest', { latestApprovers: [...'bcbcbcbcbcaaaaaaaaaa'] }, []],
  [
    'all of them',
    {
      z: Math.log(200),
      own: null,
      setupId: 'new',
      verdict: 'outlier',
      approvedOfTester: 0,
      latestApprovers: [...'aaa'],
    },
    ['lead', 'screening', 'firstRuns', 'pair'],
  ],
];

describe('a second approval', () => {
  it.each(CASES)('%s', (_, changes, expected) => {
    expect(secondReasons({ ...PLAIN, ...changes })).toEqual(expected);
  });

  it('is asked for less, never more, as a tester becomes known', () => {
    fc.assert(
      fc.property(fc.nat(20), fc.nat(20), (few, more) => {
        const reasons = (approvedOfTester: number) => secondReasons({ ...PLAIN, approvedOfTester });
        expect(reasons(few)).toEqual(expect.arrayContaining(reasons(few + more)));
      }),
    );
  });

  it('has words for every reason, and some for one that it does not know', () => {
    const words = SECOND_REASONS.map(secondReasonWords);
    expect(new Set(words).size).toBe(SECOND_REASONS.length);
    expect(secondReasonWords('toString')).toContain('another release');
  });
});
