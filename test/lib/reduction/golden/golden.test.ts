import { existsSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { METHOD_VERSION } from '@/lib/physics/normalise';
import { goldenOutput } from './goldenOutput';
import { differences, goldenPath, type Json, readGolden } from './goldenTable';

// Expected values: the method's own, as it stood when its version was written down. They prove that nothing moved,
// not that it is right; that is for the tests of each formula.
describe('the golden table of the method in force', () => {
  it('stands under its version', () => {
    const why = 'A new METHOD_VERSION needs a table: npx tsx test/lib/reduction/golden/writeGolden.ts';
    expect(existsSync(goldenPath(METHOD_VERSION)), why).toBe(true);
  });

  const { methodVersion, cases } = readGolden(METHOD_VERSION);

  it('is of this version and holds the cases that it is known for', () => {
    expect(methodVersion).toBe(METHOD_VERSION);
    expect(cases.length).toBeGreaterThanOrEqual(38);
    expect(new Set(cases.map(({ name }) => name)).size).toBe(cases.length);
  });

  it.each(cases.map(({ name, input, output }) => [name, input, output] as const))(
    '%s: no digit has moved',
    (_, input, output) => {
      const moved = differences(output, goldenOutput(input));
      expect(moved, 'Published numbers move only under a new METHOD_VERSION.').toEqual([]);
    },
  );
});

describe('the comparison itself', () => {
  const before: Json = { a: [1, null, 'x'], b: { c: 250 } };

  it('sees a digit beyond 1e-12, a code, and what is new or gone', () => {
    expect(differences(before, { a: [1, null, 'x'], b: { c: 250 * (1 + 5e-13) } })).toEqual([]);
    expect(differences(before, { a: [1, null, 'x'], b: { c: 250 * (1 + 2e-12) } })).toHaveLength(1);
    expect(differences(before, { a: [1, 0, 'x'], b: { c: 250 } })).toEqual(['.a.1: null became 0']);
    expect(differences(before, { a: [1, null], b: { c: 250, d: 1 } })).toEqual([
      '.a.2 is gone',
      '.b.d is new',
    ]);
  });
});
