import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fitGroup } from '@/lib/stats/fitGroup';
import { observationOf } from '@/lib/stats/modelRuns';
import { type StandingRun, standModel, standModels } from '@/lib/stats/modelStanding';
import { fixedEffects, intervalAbout, predictRun } from '@/lib/stats/prediction';
import { columnsOf } from '@/lib/stats/runColumns';
import { residualsBySetup, studentisedBeside } from '@/lib/stats/runScreening';
import { readEffects, readKeptSpread, readRankedRuns, readSetupStanding } from '@/lib/stats/stored';
import type { Observation } from '@/lib/stats/structure';
import { arbitraryRuns, simulateRuns } from './runs';

const components = { car: 0.002, carLoop: 0.0008, session: 0.0006, residual: 0.0003 };
const fit = { components, residualDf: 30 };
/** Of components that nobody estimated. */
const KNOWN = Array.from({ length: 4 }, () => [0, 0, 0, 0]);
const levels = { stragglerLevel: 0.05, outlierLevel: 0.01 };
const overJson = (value: unknown): unknown => JSON.parse(JSON.stringify(value));

const standing = (runs: readonly Observation[]): StandingRun[] =>
  runs.map(({ setup, car, loop, session, z, u }, i) => ({
    runId: `run ${i}`,
    number: i + 1,
    day: i,
    setupId: setup,
    carId: car,
    loopId: loop ?? null,
    sessionId: `${car} ${loop} ${session}`,
    normalisedWhPerKm: Math.exp(z),
    uRunRelative: u,
  }));
const world = (seed: number) =>
  standing(
    simulateRuns(
      {
        cars: 5,
        sessions: 4,
        loops: 2,
        setups: 3,
        runs: 3,
        sdCar: 0.04,
        sdSession: 0.02,
        sdRun: 0.02,
        u: 0.01,
      },
      seed,
    ),
  );
const logMeansOf = (runs: readonly StandingRun[]) => new Map(runs.map((run) => [run.setupId, Math.log(200)]));
const stand = (runs: readonly StandingRun[], of = fit) => standModel(runs, of, logMeansOf(runs), levels);

describe('what a fit keeps of single runs', () => {
  it('is what leaving each out and predicting it says', () => {
    const runs = world(3);
    const { runs: stood } = stand(runs);
    expect(stood).toHaveLength(runs.length);
    for (const row of stood.filter((_, i) => i % 7 === 0)) {
      const run = runs.find(({ runId }) => runId === row.runId) as StandingRun;
      const others = runs.filter((other) => other !== run);
      const own = observationOf(run);
      const predicted = predictRun(
        fixedEffects(others.map(observationOf), components),
        others.filter(({ carId }) => carId === run.carId).map(observationOf),
        components,
        KNOWN,
        own,
      );
      const mean = own.z - (row.leaveOneOut as number);
      const interval = intervalAbout(mean, row.sd as number, 1e9);
      expect(mean).toBeCloseTo(predicted?.mean as number, 9);
      expect(interval?.[0]).toBeCloseTo(predicted?.interval?.[0] as number, 8);
      expect(interval?.[1]).toBeCloseTo(predicted?.interval?.[1] as number, 8);
      const inCar = others.filter(({ carId }) => carId === run.carId);
      const inDay = others.filter(({ sessionId }) => sessionId === run.sessionId);
      expect(row).toMatchObject({
        knowsCar: inCar.length > 0,
        knowsSession: inDay.length > 0,
        isOnlyOfCar: !inCar.some(({ setupId }) => setupId === run.setupId),
        isOnlyOfSession: !inDay.some(({ setupId }) => setupId === run.setupId),
      });
    }
  });

  it('judges a run that is not among them as if it were', () => {
    fc.assert(
      fc.property(arbitraryRuns(true), fc.nat(), (drawn, pick) => {
        const runs = standing(drawn);
        const run = runs[pick % runs.length] as StandingRun;
        const others = runs.filter((other) => other !== run);
        const wanted = residualsBySetup(runs, components)
          .get(run.setupId)
          ?.find(({ number }) => number === run.number);
        const known = fixedEffects(others.map(observationOf), components);
        const ofCar = others.filter(({ carId }) => carId === run.carId).map(observationOf);
        const predicted = predictRun(known, ofCar, components, KNOWN, observationOf(run));
        expect(predicted === null).toBe(wanted === undefined);
        if (predicted === null || wanted === undefined) return;
        const leaveOneOut = Math.log(run.normalisedWhPerKm) - predicted.mean;
        const found = studentisedBeside(
          { leaveOneOut, sd: predicted.sd },
          { runs: known.runs, setups: known.setups.length, quadratic: known.quadratic },
        );
        expect(found.studentised).toBeCloseTo(wanted.studentised, 6);
        expect(found.p).toBeCloseTo(wanted.p, 7);
      }),
      { seed: 11, numRuns: 25 },
    );
  });

  it('is bounded for a setup, however many its runs, and names how many there are', () => {
    const many = Array.from({ length: 30 }, (_, i) =>
      world(i).map((run) => ({ ...run, number: run.number + 1000 * i, sessionId: `${i} ${run.sessionId}` })),
    ).flat();
    const { setups, all } = stand(many);
    expect(all.count).toBe(many.length);
    for (const { setupId, standing: kept, spread } of setups) {
      const own = many.filter((run) => run.setupId === setupId);
      const values = own.map(({ normalisedWhPerKm }) => normalisedWhPerKm).sort((a, b) => a - b);
      expect(kept.ofSetup.count).toBe(own.length);
      expect(kept.others.count).toBe(many.length - own.length);
      expect(kept.ofSetup.shown.length).toBeLessThanOrEqual(504);
      expect(kept.others.shown.length).toBeLessThanOrEqual(504);
      expect(kept.ofSetup.shown[0]?.normalisedWhPerKm).toBe(values[0]);
      expect(kept.ofSetup.shown.at(-1)?.normalisedWhPerKm).toBe(values.at(-1));
      expect(Math.exp(kept.meanLog)).toBeCloseTo(
        Math.exp(values.reduce((sum, value) => sum + Math.log(value) / values.length, 0)),
        8,
      );
      expect(spread.of.sessions).toBe(new Set(own.map(({ sessionId }) => sessionId)).size);
      expect(spread.cars.flatMap((car) => car.sessions)).toHaveLength(50);
      expect(JSON.stringify(spread).length).toBeLessThan(60_000);
    }
  });

  it('says nothing of what a fit without a spread cannot know, and still says where runs lie', () => {
    const runs = world(5);
    const kept = stand(runs, { components: { car: 0, carLoop: 0, session: 0, residual: 0 }, residualDf: 9 });
    expect(kept.effects).toBeNull();
    expect(kept.runs.every(({ sd, p }) => sd === null && p === null)).toBe(true);
    expect(kept.setups.every(({ spread }) => spread.cars.length === 0)).toBe(true);
    expect(kept.all.count).toBe(runs.length);
  });

  it('expects runs by a spread that is assumed, and calls none of them odd by it', () => {
    const runs = world(5);
    const kept = stand(runs, { components, residualDf: 0 });
    const seen = stand(runs, { components, residualDf: 9 });
    expect(kept.effects).toEqual(seen.effects);
    expect(kept.runs.map(({ sd }) => sd)).toEqual(seen.runs.map(({ sd }) => sd));
    expect(kept.runs.every(({ studentised, p, pHolm }) => (studentised ?? p ?? pHolm) === null)).toBe(true);
    expect(seen.runs.every(({ p }) => p !== null)).toBe(true);
    expect(kept.setups.every(({ spread }) => spread.cars.length === 0)).toBe(true);
  });

  it('reads back as it was written, and as nothing where it was not', () => {
    const { setups, effects, all } = stand(world(6));
    expect(readEffects(overJson(effects))).toEqual(effects);
    expect(readRankedRuns(overJson(all))).toEqual(all);
    for (const { standing: kept, spread } of setups) {
      expect(readSetupStanding(overJson(kept))).toEqual(kept);
      expect(readKeptSpread(overJson(spread))).toEqual(spread);
    }
    fc.assert(
      fc.property(fc.jsonValue(), (value) => {
        for (const read of [readEffects, readRankedRuns, readSetupStanding, readKeptSpread])
          expect(() => read(value)).not.toThrow();
        expect(readEffects({})).toBeUndefined();
      }),
    );
  });
});

describe('the models of a fitted group', () => {
  it('are told apart, each with its own runs that the fit used', () => {
    const runs = [3, 4].flatMap((seed) =>
      world(seed).map((run) => ({
        ...run,
        runId: `${seed} ${run.runId}`,
        setupId: `${seed} ${run.setupId}`,
        carId: `${seed} ${run.carId}`,
      })),
    );
    const columns = columnsOf([
      ...runs.map((run) => ({ ...observationOf(run), runId: run.runId, model: run.setupId[0] as string })),
      { ...observationOf(runs[0] as StandingRun), runId: 'odd', model: '3', z: Number.NaN },
    ]);
    const dates = {
      numbers: [...runs.map(({ number }) => number), 9999],
      days: [...runs.map(({ day }) => day), 0],
    };
    const found = [...standModels(columns, dates, fitGroup(columns, { draws: 500 }), levels)];
    expect(found.map(({ modelId }) => modelId)).toEqual(['3', '4']);
    for (const { modelId, standing: kept } of found)
      expect(kept.runs.map(({ runId }) => runId).sort()).toEqual(
        runs.flatMap(({ runId }) => (runId[0] === modelId ? [runId] : [])).sort(),
      );
  });
});
