import { describe, expect, it } from 'vitest';
import { METHOD_VERSION } from '@/lib/physics/normalise';
import { faultWords } from '@/lib/stats/holds/faultWords';
import { intervalsHold } from '@/lib/stats/holds/intervalsHold';
import { SIMULATED_COVERAGE } from '@/lib/stats/holds/simulatedCoverage';
import { readIntervalsHold } from '@/lib/stats/holds/stored';
import { readPairDetails } from '@/lib/stats/otherWays/stored';
import { PLAIN, publishedOf, REFIT, simulateClass } from './approvedRuns';

describe('what is stored of a check', () => {
  it('comes back as it was found, through JSON', () => {
    const rows = simulateClass({ ...PLAIN, models: 2, sessions: 3 }, 3);
    const found = intervalsHold(rows, publishedOf(rows), REFIT);
    expect(readIntervalsHold(JSON.parse(JSON.stringify(found)))).toEqual(found);
    // Counts and a few rows: it does not grow with the class.
    expect(JSON.stringify(found).length).toBeLessThan(5000);
  });

  it('counts as not there where it cannot be read', () => {
    for (const odd of [undefined, null, 'x', 4, [], {}, { coverage: [] }]) {
      expect(readIntervalsHold(odd)).toBeUndefined();
    }
    for (const odd of [undefined, null, 'x', [], {}, { restsOn: 4, otherWays: { ways: 'no' } }]) {
      expect(readPairDetails(odd)).toEqual({ restsOn: [], otherWays: undefined });
    }
    expect(readPairDetails({ restsOn: ['t'], more: 1 }).restsOn).toEqual(['t']);
  });
});

describe('a class that did not pass', () => {
  it('is told in one sentence, and one that passed in none', () => {
    expect(faultWords('110 km/h', null)).toBeUndefined();
    expect(faultWords('110 km/h', [])).toBeUndefined();
    expect(faultWords('110 km/h', ['narrow'])).toBe(
      'The intervals at 110 km/h did not pass when later runs were held against them: they held less often than they say.',
    );
    expect(faultWords('90 km/h', ['narrow', 'uneven'])).toMatch(
      /say, and some cars, testers or loops scatter/,
    );
  });
});

describe('the table of simulated worlds', () => {
  it('says when and how it was made, for the method of today', () => {
    expect(SIMULATED_COVERAGE.command).toContain('npm run bench -- coverage');
    expect(SIMULATED_COVERAGE.methodVersion).toBe(METHOD_VERSION);
    const kinds = new Set(SIMULATED_COVERAGE.rows.map(({ kind }) => kind));
    expect(kinds).toContain('across');
    expect(kinds).toContain('within');
  });
});
