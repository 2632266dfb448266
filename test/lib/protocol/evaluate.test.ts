import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { countOutcomes, evaluateRun, isApprovable } from '@/lib/protocol/evaluate';
import { OUTCOMES, RULE_GROUPS } from '@/lib/protocol/rule';
import { RULES, ruleById } from '@/lib/protocol/rules/allRules';
import { PROTOCOL_V1 } from '@/lib/protocol/versions/v1';
import { exactReading, findingOf, GOOD_RUN, withLoop, withReading, withRecord } from './exampleFacts';

describe('evaluateRun', () => {
  it('passes a good run by every rule', () => {
    const findings = evaluateRun(GOOD_RUN, PROTOCOL_V1);
    expect(findings.filter((finding) => finding.outcome !== 'pass')).toEqual([]);
    expect(isApprovable(findings)).toBe(true);
  });

  it('gives one finding a rule, in the rules’ order, whatever the run', () => {
    const ids = RULES.map((rule) => rule.id);
    const bare = { ...withRecord({ readings: {} }), checks: [], evidenceKinds: [], normalisation: undefined };
    for (const facts of [GOOD_RUN, bare]) {
      expect(evaluateRun(facts, PROTOCOL_V1).map((finding) => finding.ruleId)).toEqual(ids);
    }
    expect(new Set(ids).size).toBe(ids.length);
    expect(ids.length).toBeGreaterThanOrEqual(24);
  });

  it('is a function of its input', () => {
    const before = structuredClone(GOOD_RUN);
    expect(evaluateRun(GOOD_RUN, PROTOCOL_V1)).toEqual(evaluateRun(structuredClone(before), PROTOCOL_V1));
    expect(GOOD_RUN).toEqual(before);
  });

  it('gives findings that survive storage as JSON', () => {
    const findings = evaluateRun(withRecord({ isRetrospective: true, readings: {} }), PROTOCOL_V1);
    expect(JSON.parse(JSON.stringify(findings))).toEqual(findings);
  });

  it('does not pass what is not a number', () => {
    expect(findingOf('off-cruise-share', withLoop({ offCruiseShare: Number.NaN })).outcome).toBe('fail');
  });
});

describe('sentences', () => {
  const windOf = (windMps: number) =>
    findingOf('wind', withReading('windSpeed', exactReading('windSpeed', windMps, 'm/s')));

  it('say the number, the limits and what to do', () => {
    expect(windOf(6.2).sentence.replaceAll('\u202F', ' ')).toBe(
      'Mean wind was 6.2 m/s; up to 5 m/s is within the protocol and up to 8 m/s is accepted with a caution. Repeat on a calmer day if you can.',
    );
    expect(windOf(6.2).numbers).toEqual([{ name: 'Mean wind', value: 6.2, unit: 'm/s', limit: 5 }]);
  });

  it('do not write a number as equal to a limit that it misses', () => {
    expect(windOf(5.04).sentence).toContain('5.04');
    expect(windOf(5.004).sentence).toContain('5.004');
  });

  it('write speeds of the class in km/h', () => {
    const off = findingOf(
      'mean-cruise-speed',
      withReading('trueSpeed', exactReading('trueSpeed', 112 / 3.6, 'km/h')),
    );
    expect(off.sentence.replaceAll('\u202F', ' ')).toBe(
      'The true cruise speed was 112.0 km/h in the class 110 km/h, off by 2.0 km/h; up to 1.5 km/h is within the protocol and up to 3 km/h is accepted with a caution. Repeat the run at the speed of the class, or choose the class that was driven.',
    );
  });
});

describe('isApprovable', () => {
  const outcomes = fc.array(fc.constantFrom(...OUTCOMES), { minLength: 1, maxLength: 60 });

  it('is refused by any fail and by nothing else', () => {
    fc.assert(
      fc.property(outcomes, (list) => {
        const findings = list.map((outcome) => ({ outcome }));
        expect(isApprovable(findings)).toBe(!list.includes('fail'));
      }),
    );
  });

  it('is refused to a run that was not judged', () => {
    expect(isApprovable([])).toBe(false);
  });

  it('counts every finding once', () => {
    fc.assert(
      fc.property(outcomes, (list) => {
        const counts = countOutcomes(list.map((outcome) => ({ outcome })));
        expect(counts.pass + counts.caution + counts.fail + counts.notChecked).toBe(list.length);
        expect(counts.fail).toBe(list.filter((outcome) => outcome === 'fail').length);
      }),
    );
  });
});

describe('the rules’ words', () => {
  it.each(RULES.map((rule) => [rule.id, rule] as const))('%s has them all', (id, rule) => {
    expect(id).toMatch(/^[a-z]+(-[a-z]+)*$/);
    expect(RULE_GROUPS).toContain(rule.group);
    expect(rule.title).toMatch(/^[A-Z].*[^.]$/);
    for (const text of [rule.why, rule.appliesTo, rule.guidance]) expect(text).toMatch(/^[A-Z].*\.$/);
    expect(ruleById(id)).toBe(rule);
  });

  it('stand in the order of the groups', () => {
    const positions = RULES.map((rule) => RULE_GROUPS.indexOf(rule.group));
    expect(positions).toEqual([...positions].sort((a, b) => a - b));
    expect(new Set(positions).size).toBe(RULE_GROUPS.length);
  });
});
