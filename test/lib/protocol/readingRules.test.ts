import { describe, expect, it } from 'vitest';
import { checkConsistency } from '@/lib/capture/consistency';
import type { CheckId } from '@/lib/capture/consistencyRules';
import { withHalfDigit } from '@/lib/capture/readings';
import { evaluateRun } from '@/lib/protocol/evaluate';
import type { Outcome } from '@/lib/protocol/rule';
import { READING_RULES } from '@/lib/protocol/rules/readings';
import { NEWEST_VERSION } from '@/lib/protocol/versions/newestVersion';
import { ALL_CHECK_IDS, changed, check, findingOf, GOOD_RUN, outcomeOf } from './exampleFacts';

const CASES: readonly (readonly [id: CheckId, ruleId: string, outcome: Outcome])[] = [
  ['efficiency', 'finish-readings-agree', 'fail'],
  ['meanSpeed', 'finish-readings-agree', 'fail'],
  ['outboundEfficiency', 'turnaround-readings-agree', 'caution'],
  ['turnaroundEnergy', 'turnaround-readings-agree', 'fail'],
  ['turnaroundDistance', 'turnaround-readings-agree', 'fail'],
  ['turnaroundTime', 'turnaround-readings-agree', 'fail'],
  ['chargeDrop', 'charge-readings-agree', 'caution'],
  ['finishChargeBelowStart', 'charge-readings-agree', 'fail'],
  ['turnaroundChargeBelowStart', 'charge-readings-agree', 'fail'],
  ['finishChargeBelowTurnaround', 'charge-readings-agree', 'fail'],
  ['chargerEnergy', 'charger-reading-agrees', 'caution'],
  ['odometer', 'odometer-agrees', 'caution'],
  ['meanBelowCruise', 'mean-below-cruise', 'fail'],
  ['shownMeanBelowCruise', 'mean-below-cruise', 'fail'],
];

const onlyFailing = (id: CheckId) => ({
  ...GOOD_RUN,
  checks: ALL_CHECK_IDS.map((each) => check(each, each === id ? 'inconsistent' : 'consistent')),
});

describe('rules over cross-checks', () => {
  it('leave no cross-check unjudged', () => {
    expect(CASES.map(([id]) => id).sort()).toEqual([...ALL_CHECK_IDS].sort());
  });

  it.each(CASES)('a failed %s makes %s a %s and nothing else', (id, ruleId, outcome) => {
    const finding = findingOf(ruleId, onlyFailing(id));
    expect(finding.outcome).toBe(outcome);
    expect(finding.sentence).toContain(`The check ${id} is inconsistent.`);
    const others = evaluateRun(onlyFailing(id), NEWEST_VERSION).filter((each) => each.ruleId !== ruleId);
    expect(others.every((each) => each.outcome === 'pass')).toBe(true);
  });

  it.each(CASES)('a version may take a failed %s otherwise', (id, ruleId, outcome) => {
    const other = outcome === 'fail' ? 'caution' : 'fail';
    expect(outcomeOf(ruleId, onlyFailing(id), changed('disagreement', { [id]: other }))).toBe(other);
  });

  it('are not checked where nothing could be compared', () => {
    const facts = { ...GOOD_RUN, checks: ALL_CHECK_IDS.map((id) => check(id, 'notChecked')) };
    for (const rule of READING_RULES) {
      const finding = findingOf(rule.id, facts);
      expect(finding.outcome, rule.id).toBe('notChecked');
      expect(finding.sentence).toMatch(/^Not checked/);
      expect(finding.numbers).toEqual([]);
    }
  });

  it('take the gravest of several failed checks', () => {
    const checks = [check('chargeDrop', 'inconsistent'), check('finishChargeBelowStart', 'inconsistent')];
    expect(outcomeOf('charge-readings-agree', { ...GOOD_RUN, checks })).toBe('fail');
    expect(outcomeOf('charge-readings-agree', { ...GOOD_RUN, checks: checks.slice(0, 1) })).toBe('caution');
  });

  /** 22.4 kWh over 106.9 km is 20.95 kWh/100 km; a display that rounds shows 21.0 and never 20.1. */
  it('read the checks as they are made from readings', () => {
    const shown = (consumptionWhPerKm: number) => ({
      ...GOOD_RUN,
      checks: checkConsistency({
        distanceM: withHalfDigit(106_900, 50),
        energyWh: withHalfDigit(22_400, 50),
        consumptionWhPerKm: withHalfDigit(consumptionWhPerKm, 0.5),
      }),
    });
    expect(outcomeOf('finish-readings-agree', shown(210))).toBe('pass');
    const finding = findingOf('finish-readings-agree', shown(201));
    expect(finding.outcome).toBe('fail');
    expect(finding.numbers.map((number) => number.unit)).toEqual(['kWh/100km', 'kWh/100km']);
    expect(finding.numbers[0]?.value).toBeCloseTo(20.954, 3);
    expect(finding.numbers[1]?.value).toBeCloseTo(20.1, 9);
  });
});
