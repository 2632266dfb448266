import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fitGroup } from '@/lib/stats/fitGroup';
import { type FitSummary, readFitSummary, readMissing } from '@/lib/stats/stored';
import { simulateRuns } from './runs';

const throughJson = (value: unknown): unknown => JSON.parse(JSON.stringify(value));

const runs = simulateRuns(
  { cars: 4, sessions: 3, setups: 3, runs: 3, sdCar: 0.02, sdSession: 0.01, sdRun: 0.01, u: 0.005 },
  7,
);
const { estimates: _, contrasts: __, ranks: ___, excluded, ...rest } = fitGroup(runs);
const summary: FitSummary = {
  ...rest,
  excluded: excluded.map(({ row, reason }) => ({ runId: row.runId, reason })),
  notNormalised: 2,
  usesPooled: false,
};

describe('a stored summary of a fit', () => {
  it('is read as it was written', () => {
    expect(throughJson(readFitSummary(throughJson(summary)))).toEqual(throughJson(summary));
  });

  it('of the first method has no car on a loop, and says where its components come from', () => {
    const { origins: _, sharedEffects: __, modelCriticalValues: ___, usesPooled: ____, ...older } = summary;
    const { carLoop: _____, ...components } = summary.components;
    const read = readFitSummary(throughJson({ ...older, components, pooled: true, colour: 'grey' }));
    expect(read).toMatchObject({
      components: { ...components, carLoop: 0 },
      origins: { car: 'pooled', carLoop: 'none', session: 'pooled', residual: 'pooled' },
      sharedEffects: [],
      modelCriticalValues: [],
      usesPooled: false,
    });
  });

  it('with another kind of repeatability is read without one, and without components not at all', () => {
    const other = { ...summary, repeatability: { cells: 3 } };
    expect(readFitSummary(throughJson(other))?.repeatability).toBeNull();
    expect(readFitSummary(throughJson({ ...summary, components: { car: 1 } }))).toBeUndefined();
  });

  it('never makes its reader throw', () => {
    fc.assert(
      fc.property(fc.jsonValue(), fc.constantFrom(...Object.keys(summary)), (value, key) => {
        readFitSummary(value);
        const read = readFitSummary({ ...summary, [key]: value });
        expect(read === undefined || read.components.residual >= 0).toBe(true);
      }),
    );
  });
});

describe('what keeps an estimate from being ranked', () => {
  it('is read as far as it can be', () => {
    const kept = [{ what: 'runs', have: 1, need: 3 }];
    expect(readMissing(throughJson(kept))).toEqual(kept);
    expect(readMissing([...kept, { what: 'moons', have: 1, need: 3 }, null])).toEqual(kept);
  });

  it('never makes its reader throw', () => {
    fc.assert(
      fc.property(fc.jsonValue(), (value) => {
        expect(readMissing(value).every(({ have, need }) => have >= 0 && need >= 0)).toBe(true);
      }),
    );
  });
});
