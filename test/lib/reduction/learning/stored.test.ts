import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { priorBelief } from '@/lib/physics/learned';
import { normaliseRun } from '@/lib/physics/normalise';
import { ASSUMED_SPREAD, learnFromRuns } from '@/lib/reduction/learning/learnFromRuns';
import { readAdoption, readLearning, type StoredRoadLoad } from '@/lib/reduction/learning/stored';
import { exampleCase } from '../../physics/exampleCase';

const throughJson = (value: unknown): unknown => JSON.parse(JSON.stringify(value));

const runs = [1, 2, 3].map((runNumber) => {
  const engineCase = { ...exampleCase(), run: { ...exampleCase().run, energyWh: 17_000 + 100 * runNumber } };
  const { measuredWhPerKm } = normaliseRun(engineCase);
  const ids = { runNumber, carId: 'car', sessionId: `day ${runNumber}` };
  return { ...ids, engineCase, measuredWhPerKm, uRunRelative: 0.005 };
});

const learned: StoredRoadLoad = {
  ...learnFromRuns(runs, priorBelief('suv', 'road'), ASSUMED_SPREAD),
  methodVersion: '1',
  basis: 'asDelivered',
  tyreKind: 'road',
  setups: [{ slug: 'as-delivered', title: 'As delivered', runs: 3 }],
  approvedRuns: 4,
  leftOut: [{ reason: 'outside the method’s reach', runs: 1 }],
};

describe('a stored learning', () => {
  it('is read as it was written', () => {
    expect(readLearning(throughJson(learned))).toEqual(throughJson(learned));
  });

  it('of an older kind left out nothing that it tells of, and keeps nothing that nobody knows', () => {
    const { leftOut: _, ...older } = learned;
    expect(readLearning(throughJson({ ...older, colour: 'grey' }))).toEqual(
      throughJson({ ...learned, leftOut: [] }),
    );
  });

  it('of the first version of the method was not judged by cars, and is read as unjudged', () => {
    const { leftOutCarsLogScore: _, ...older } = learned;
    expect(readLearning(throughJson({ ...older, leaveOneOutLogScore: 4 }))?.leftOutCarsLogScore).toBeNaN();
  });

  it('without a posterior is not read', () => {
    expect(readLearning(throughJson({ ...learned, posterior: { mean: [1, 2] } }))).toBeUndefined();
    expect(readLearning(throughJson({ ...learned, runs: 0 }))).toBeUndefined();
  });

  it('never makes its reader throw', () => {
    fc.assert(
      fc.property(fc.jsonValue(), fc.constantFrom(...Object.keys(learned)), (value, key) => {
        readLearning(value);
        const read = readLearning({ ...learned, [key]: value });
        expect(read === undefined || read.posterior.mean.length === 3).toBe(true);
      }),
    );
  });
});

describe('a stored adoption', () => {
  const { posterior } = learned;
  const levels = [{ factor: 'rideHeight', levelId: 'low' }];

  it('is read whole or not at all, since runs are computed with it', () => {
    expect(readAdoption({ posterior: throughJson(posterior), levels })).toEqual({ posterior, levels });
    expect(
      readAdoption({ posterior: throughJson(posterior), levels: [{ factor: 'rideHeight' }] }),
    ).toBeUndefined();
    expect(readAdoption({ posterior: null, levels })).toBeUndefined();
  });

  it('never makes its reader throw', () => {
    fc.assert(
      fc.property(fc.jsonValue(), fc.jsonValue(), (anything, other) => {
        const read = readAdoption({ posterior: anything, levels: other });
        expect(read === undefined || read.posterior.covariance.length === 3).toBe(true);
      }),
    );
  });
});
