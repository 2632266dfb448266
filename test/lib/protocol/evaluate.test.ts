import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { countOutcomes, evaluateRun, isApprovable } from '@/lib/protocol/evaluate';
import { limitsOfRule, type ProtocolVersion, sectionsFor } from '@/lib/protocol/parameters';
import { OUTCOMES, RULE_GROUPS } from '@/lib/protocol/rule';
import { RULES, ruleById } from '@/lib/protocol/rules/allRules';
import { NEWEST_VERSION } from '@/lib/protocol/versions/newestVersion';
import { exactReading, findingOf, GOOD_RUN, withLoop, withReading, withRecord } from './exampleFacts';
import { RULES_AFTER_ONE, VERSION_ONE, VERSIONS_UNDER_TEST } from './versionsUnderTest';

/** In the order of the rules: what version 1.0 judges by. */
const IDS_OF_VERSION_ONE = RULES.map((rule) => rule.id).filter((id) => !RULES_AFTER_ONE.includes(id));

describe.each(VERSIONS_UNDER_TEST)('evaluateRun under $name', ({ version }) => {
  it('passes a good run by every rule', () => {
    const findings = evaluateRun(GOOD_RUN, version);
    expect(findings.filter((finding) => finding.outcome !== 'pass')).toEqual([]);
    expect(isApprovable(findings)).toBe(true);
  });

  it('gives one finding a rule, in the rules’ order, whatever the run', () => {
    const ids = version === VERSION_ONE ? IDS_OF_VERSION_ONE : RULES.map((rule) => rule.id);
    const bare = { ...withRecord({ readings: {} }), checks: [], evidenceKinds: [], normalisation: undefined };
    for (const facts of [GOOD_RUN, bare]) {
      expect(evaluateRun(facts, version).map((finding) => finding.ruleId)).toEqual(ids);
    }
    expect(new Set(ids).size).toBe(ids.length);
    expect(ids.length).toBeGreaterThanOrEqual(24);
  });

  it('is a function of its input', () => {
    const before = structuredClone(GOOD_RUN);
    expect(evaluateRun(GOOD_RUN, version)).toEqual(evaluateRun(structuredClone(before), version));
    expect(GOOD_RUN).toEqual(before);
  });

  it('gives findings that survive storage as JSON', () => {
    const findings = evaluateRun(withRecord({ isRetrospective: true, readings: {} }), version);
    expect(JSON.parse(JSON.stringify(findings))).toEqual(findings);
  });

  it('does not pass what is not a number', () => {
    const facts = withLoop({ offCruiseShare: Number.NaN });
    expect(findingOf('off-cruise-share', facts, version.parameters).outcome).toBe('fail');
  });
});

describe('limits for runs recorded afterwards', () => {
  const { parameters } = NEWEST_VERSION;
  const stricter: ProtocolVersion = {
    label: '3.1',
    parameters: {
      ...parameters,
      retrospective: { ...parameters.retrospective, limits: { wind: { passUpToMps: 2 } } },
    },
  };
  const windOf = (isRetrospective: boolean, version: ProtocolVersion) =>
    findingOf('wind', withRecord({ isRetrospective }), version.parameters);

  it('hold for those runs only, in the place of the version’s own', () => {
    // the good run has a mean wind of 2.4 m/s
    expect(windOf(false, stricter).outcome).toBe('pass');
    const afterwards = windOf(true, stricter);
    expect(afterwards.outcome).toBe('caution');
    expect(afterwards.numbers[0]?.limit).toBe(2);
    expect(windOf(true, NEWEST_VERSION).outcome).toBe('pass');
  });

  it('leave every other rule as it is', () => {
    const facts = withRecord({ isRetrospective: true });
    const changed = evaluateRun(facts, stricter).filter(
      (finding, index) => finding.sentence !== evaluateRun(facts, NEWEST_VERSION)[index]?.sentence,
    );
    expect(changed.map(({ ruleId }) => ruleId)).toEqual(['wind']);
  });
});

describe('a rule that a version does not state', () => {
  const { gusts: _gusts, ...older } = NEWEST_VERSION.parameters;

  it('does not judge, unless it holds in every version', () => {
    const idsOf = (version: ProtocolVersion) => evaluateRun(GOOD_RUN, version).map(({ ruleId }) => ruleId);
    expect(idsOf({ label: 'older', parameters: older })).not.toContain('gusts');
    const bare = { ranking: older.ranking, screening: older.screening };
    expect(idsOf({ label: 'bare', parameters: bare })).toEqual(['posted-limit', 'not-duplicate']);
  });

  it('says by its absence what that means: a rule without limits of its own cannot be left out', () => {
    for (const { id, schema, absence } of RULES) {
      expect(absence === 'notJudged', id).toBe(Object.keys(schema).length > 0);
    }
  });

  it('judges by its standing limits where it has some', () => {
    const gusts = ruleById('gusts');
    if (gusts === undefined) throw new RangeError('no rule gusts');
    const held = { ...gusts, absence: { heldBy: { gusts: { passUpToMps: 3 } } } };
    const stated = sectionsFor(older, false);
    expect(limitsOfRule(gusts, stated)).toBeUndefined();
    expect(limitsOfRule(held, stated)).toEqual({ gusts: { passUpToMps: 3 } });
    expect(limitsOfRule(held, sectionsFor(NEWEST_VERSION.parameters, false))?.gusts).toEqual({
      passUpToMps: 5,
    });
  });
});

describe('gusts', () => {
  const metresPerSecond = (value: number) => exactReading('windGust', value, 'm/s');

  it('are the gust less the mean wind, to any mean', () => {
    const speed = fc.double({ min: 0, max: 40, noNaN: true });
    fc.assert(
      fc.property(speed, speed, (meanMps, overMps) => {
        fc.pre(Math.abs(overMps - 5) > 1e-6);
        const facts = withReading(
          'windGust',
          metresPerSecond(meanMps + overMps),
          withReading('windSpeed', exactReading('windSpeed', meanMps, 'm/s')),
        );
        const { outcome, numbers } = findingOf('gusts', facts);
        expect(outcome).toBe(overMps <= 5 ? 'pass' : 'caution');
        expect(numbers[0]?.value).toBeCloseTo(overMps, 9);
      }),
    );
  });

  it('are not checked where none or no mean wind is stated, and are no item that a run lacks', () => {
    const without = withReading('windGust', undefined);
    expect(findingOf('gusts', without).outcome).toBe('notChecked');
    expect(findingOf('gusts', without).sentence).toBe('Not checked: no gusts were stated.');
    expect(findingOf('gusts', withReading('windSpeed', undefined)).outcome).toBe('notChecked');
    const afterwards = withRecord({ isRetrospective: true }, without);
    expect(findingOf('gusts', afterwards).outcome).toBe('notChecked');
    expect(findingOf('recorded-as-driven', afterwards).sentence).toContain('Nothing that the protocol asks');
  });

  it('say the number, the limit and what to do', () => {
    const gusty = findingOf('gusts', withReading('windGust', metresPerSecond(9)));
    expect(gusty.sentence.replaceAll('\u202F', ' ')).toBe(
      'Gusts were 6.6 m/s over the mean wind; up to 5 m/s is within the protocol. More is accepted with a caution. Repeat in a steadier wind if you can.',
    );
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

  it('name the end of a range that the number is nearer to', () => {
    // 5 to 35 °C pass
    const limitAt = (celsius: number) =>
      findingOf(
        'air-temperature',
        withReading('airTemperature', exactReading('airTemperature', celsius, 'degC')),
      ).numbers[0]?.limit;
    expect([-3, 19, 21, 41].map(limitAt)).toEqual([5, 5, 35, 35]);
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
