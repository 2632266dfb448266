import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Outcome } from '@/lib/protocol/rule';
import { findingOf, outcomeOf } from './exampleFacts';
import { MEASURED_CASES } from './measuredRules';
import { VERSIONS_UNDER_TEST } from './versionsUnderTest';

/**
 * The limits are those of method A5, our own starting values; where A5 gives only the limit of a pass, the second
 * limit is version 1.0's own. They are typed here again, so that a slip in the version's data shows.
 */
const cases = VERSIONS_UNDER_TEST.flatMap(({ name, version }) =>
  MEASURED_CASES.filter(({ isNew }) => !isNew || version.label !== '1.0').map((each) => ({
    ...each,
    name,
    parameters: version.parameters,
  })),
);

describe.each(cases)('$ruleId under $name', ({ ruleId, run, examples, span, best, parameters }) => {
  it.each(examples)('judges %d as %s', (value, outcome) => {
    expect(outcomeOf(ruleId, run(value), parameters)).toBe(outcome);
  });

  it('is never milder farther from the best value', () => {
    const severity: Record<Outcome, number> = { pass: 0, caution: 1, fail: 2, notChecked: Number.NaN };
    const number = fc.double({ min: span[0], max: span[1], noNaN: true });
    fc.assert(
      fc.property(number, number, (a, b) => {
        fc.pre(a <= best === b <= best);
        const [near, far] = Math.abs(a - best) <= Math.abs(b - best) ? [a, b] : [b, a];
        expect(severity[outcomeOf(ruleId, run(far), parameters)]).toBeGreaterThanOrEqual(
          severity[outcomeOf(ruleId, run(near), parameters)],
        );
      }),
      { numRuns: 30 },
    );
  });

  it('gives the deciding number with its limit, and advice when it does not pass', () => {
    for (const [value, outcome] of examples) {
      const finding = findingOf(ruleId, run(value), parameters);
      expect(finding.numbers.length).toBeGreaterThan(0);
      expect(finding.numbers.every((number) => Number.isFinite(number.value))).toBe(true);
      expect(finding.numbers.some((number) => Number.isFinite(number.limit))).toBe(true);
      // a statement, and after it what to do
      const sentences = finding.sentence.split(/(?<=\.) (?=[A-Z])/);
      if (outcome !== 'pass') expect(sentences.length).toBeGreaterThan(1);
      expect(finding.sentence).toMatch(/^[A-Z].*\.$/);
      expect(finding.sentence).not.toMatch(/undefined|NaN|Infinity/);
    }
  });
});
