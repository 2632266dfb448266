import { describe, expect, it } from 'vitest';
import { checkConsistency, inconsistentChecks } from '@/lib/capture/consistency';
import { displayReadings } from '@/lib/reduction/displayReadings';
import { cruiseClassByKey } from '@/lib/run/cruiseClass';
import { parseRunForm } from '@/lib/run/parseRunForm';
import { generateDemoWorld } from '@/prisma/demo/world/generateDemoWorld';
import type { DemoRun, DemoWorld } from '@/prisma/demo/world/types';

const SEED = 20_261_031;
const world = generateDemoWorld({ seed: SEED });

const ID = '0192d3f0-0000-7000-8000-000000000001';
const NOW = '2026-11-20T00:00:00Z';

const byKey = <T extends { key: string }>(items: readonly T[], key: string): T => {
  const found = items.find((item) => item.key === key);
  if (found === undefined) throw new Error(`nothing is named ${key}`);
  return found;
};

/** Every submitted form as a record, with the run it belongs to. */
function submitted(of: DemoWorld) {
  return of.runs.flatMap((run) =>
    run.revisions.map((revision) => {
      const parsed = parseRunForm({ ...revision.form, carId: ID, setupId: ID, loopId: ID }, { now: NOW });
      return { run, revision, parsed };
    }),
  );
}

function failedChecks(run: DemoRun, parsed: ReturnType<typeof submitted>[number]['parsed']) {
  if (!parsed.ok) throw new Error(`${run.key}: ${parsed.issues.map((issue) => issue.what).join(' ')}`);
  const { usableCapacityWh } = byKey(world.cars, run.carKey);
  return inconsistentChecks(checkConsistency(displayReadings(parsed.record.readings, usableCapacityWh)));
}

describe('the demo world', () => {
  it('misreads no energy to one that the form would refuse', () => {
    // whatever digit is misread: a total below that of the turnaround would be refused, and so would none
    const misread = [10, 11, 12].flatMap((seed) =>
      submitted(generateDemoWorld({ seed })).filter(({ revision }) => revision.fault === 'misreadDigit'),
    );
    expect(misread.length).toBeGreaterThan(2);
    for (const { run, parsed } of misread) expect(parsed.ok, run.key).toBe(true);
  });

  it('is the same for the same seed and another for another', () => {
    expect(generateDemoWorld({ seed: SEED })).toEqual(world);
    const other = generateDemoWorld({ seed: SEED + 1 });
    expect(other.truth.carLogEffect).not.toEqual(world.truth.carLogEffect);
    expect(other.runs.map((run) => run.startedAt)).not.toEqual(world.runs.map((run) => run.startedAt));
  });

  it('has the people, cars, loops and runs that it promises', () => {
    const count = (role: string) => world.people.filter((person) => person.role === role).length;
    expect([count('tester'), count('reviewer'), count('steward')]).toEqual([12, 3, 1]);
    expect(new Set(world.models.map((model) => model.makerName)).size).toBe(2);
    expect(world.models).toHaveLength(5);
    expect(world.loops).toHaveLength(3);
    for (const model of world.models) {
      expect(model.setups.length).toBeGreaterThanOrEqual(4);
      expect(model.setups.length).toBeLessThanOrEqual(6);
    }
    for (const { key } of world.people.filter((person) => person.role === 'tester')) {
      const cars = world.cars.filter((car) => car.ownerKey === key);
      expect(cars.length).toBeGreaterThanOrEqual(1);
      expect(cars.length).toBeLessThanOrEqual(2);
    }
    expect(world.runs.length).toBeGreaterThan(380);
    expect(world.runs.length).toBeLessThan(430);
    const inClass = (key: string) => world.runs.filter((run) => run.cruiseClassKey === key).length;
    expect(inClass('kmh-110')).toBeGreaterThan(150);
    expect(inClass('kmh-90')).toBeGreaterThan(70);
    expect(inClass('kmh-130')).toBeGreaterThan(60);
    expect(inClass('mph-70')).toBeGreaterThan(20);
  });

  it('names nothing twice', () => {
    const lists = [world.people, world.models, world.cars, world.loops, world.runs];
    for (const keys of lists.map((items) => items.map((item) => item.key))) {
      expect(new Set(keys).size).toBe(keys.length);
    }
    for (const { key } of world.runs) expect(key.length).toBeGreaterThanOrEqual(8);
    expect(new Set(world.people.map((person) => person.email)).size).toBe(world.people.length);
    const setups = world.models.flatMap((model) =>
      model.setups.map((setup) => [...setup.levelKeys].sort().join()),
    );
    expect(new Set(setups).size).toBe(setups.length);
  });

  it('stays within fourteen months and within the posted limits', () => {
    for (const run of world.runs) {
      const at = Date.parse(run.startedAt);
      expect(at).toBeGreaterThanOrEqual(Date.UTC(2025, 8, 1));
      expect(at).toBeLessThan(Date.UTC(2026, 10, 1));
      const limit = byKey(world.loops, run.loopKey).postedLimitMps;
      expect(cruiseClassByKey(run.cruiseClassKey)?.speedMps).toBeLessThanOrEqual(limit + 1e-9);
    }
  });

  it('keeps one car on one loop a day, in sessions of one to five runs', () => {
    const sizes = new Map<string, number>();
    const daysOfTester = new Map<string, string>();
    for (const run of world.runs.filter(
      (each) => each.draftForm === undefined && !each.key.endsWith('again'),
    )) {
      sizes.set(run.sessionKey, (sizes.get(run.sessionKey) ?? 0) + 1);
      const day = `${run.testerKey} ${run.startedAt.slice(0, 10)}`;
      expect(daysOfTester.get(day) ?? run.sessionKey).toBe(run.sessionKey);
      daysOfTester.set(day, run.sessionKey);
    }
    expect(Math.max(...sizes.values())).toBeLessThanOrEqual(5);
    expect(Math.min(...sizes.values())).toBeGreaterThanOrEqual(2);
  });

  it('lets every setup but the baseline differ from it in one factor', () => {
    for (const model of world.models) {
      const [baseline, ...others] = model.setups;
      for (const setup of others) {
        const changed = setup.levelKeys.filter((level) => !baseline?.levelKeys.includes(level));
        expect(changed).toHaveLength(1);
        expect(changed[0]?.startsWith(`${setup.changes}=`)).toBe(true);
        expect(setup.levelKeys).toHaveLength(baseline?.levelKeys.length ?? 0);
      }
    }
  });

  it('fills forms that the run form accepts', () => {
    for (const { run, parsed } of submitted(world)) {
      expect(parsed.ok ? [] : parsed.issues, run.key).toEqual([]);
    }
  });

  it('rounds every good reading as its display does: all cross-checks meet', () => {
    const good = submitted(world).filter(({ revision }) => revision.fault === undefined);
    expect(good.length).toBeGreaterThan(380);
    for (const { run, parsed } of good) {
      expect(
        failedChecks(run, parsed).map((check) => check.id),
        run.key,
      ).toEqual([]);
    }
  });

  it('plants misread digits and a wrong unit that the cross-checks find', () => {
    const slips = submitted(world).filter(({ revision }) =>
      ['misreadDigit', 'wrongUnit'].includes(revision.fault ?? ''),
    );
    expect(slips).toHaveLength(4);
    for (const { run, parsed } of slips) {
      expect(
        failedChecks(run, parsed).map((check) => check.id),
        run.key,
      ).toContain('efficiency');
    }
  });

  it('has every kind of bad submission and of ending', () => {
    const revisions = world.runs.flatMap((run) => run.revisions);
    const faults = new Set(
      revisions.map((revision) => revision.fault).filter((fault) => fault !== undefined),
    );
    expect([...faults].sort()).toEqual([
      'closeFollowing',
      'cruiseTooSlow',
      'duplicate',
      'misreadDigit',
      'noFinishPhoto',
      'rain',
      'startChargeOff',
      'wrongUnit',
    ]);
    const waiting = revisions.filter((revision) => revision.review === undefined);
    expect(waiting.filter((revision) => revision.fault === undefined)).toHaveLength(3);
    expect(waiting.filter((revision) => revision.fault !== undefined)).toHaveLength(4);
    expect(world.runs.filter((run) => run.revisions.length === 2)).toHaveLength(3);
    expect(world.runs.filter((run) => run.draftForm !== undefined)).toHaveLength(2);
    expect(world.runs.filter((run) => run.retraction !== undefined)).toHaveLength(1);
    expect(revisions.filter((revision) => revision.review?.kind === 'reject')).toHaveLength(6);
  });

  it('tells events in an order that can have happened', () => {
    for (const run of world.runs) {
      let last = Date.parse(run.startedAt);
      for (const revision of run.revisions) {
        const steps = [revision.submittedAt, revision.review?.claimedAt, revision.review?.decidedAt];
        for (const step of steps.filter((each) => each !== undefined)) {
          expect(Date.parse(step)).toBeGreaterThan(last);
          last = Date.parse(step);
        }
      }
      if (run.retraction !== undefined) expect(Date.parse(run.retraction.at)).toBeGreaterThan(last);
    }
  });

  it('has setups with one run, setups with one car, and a model that nothing joins to the rest at 110 km/h', () => {
    const counted = world.runs.filter((run) => run.cruiseClassKey === 'kmh-110' && run.revisions.length > 0);
    const of = (setupKey: string) => counted.filter((run) => run.setupKey === setupKey);
    expect(of('dotterel/full-pressure')).toHaveLength(1);
    expect(of('godwit/climate-off')).toHaveLength(1);
    expect(new Set(of('turnstone/all-terrain').map((run) => run.carKey))).toEqual(new Set(['turnstone-4']));
    expect(
      counted.filter((run) => run.carKey === 'turnstone-4' && run.setupKey !== 'turnstone/all-terrain'),
    ).toEqual([]);
    const loopsOf = (isBus: boolean) =>
      new Set(counted.filter((run) => run.carKey.startsWith('whimbrel') === isBus).map((run) => run.loopKey));
    expect([...loopsOf(true)]).toEqual(['forest']);
    expect(loopsOf(false).has('forest')).toBe(false);
  });

  it('can be had small: about forty runs among the same people and cars', () => {
    const small = generateDemoWorld({ seed: SEED, scale: 'small' });
    expect(small.runs.length).toBeGreaterThan(30);
    expect(small.runs.length).toBeLessThan(60);
    expect(small.people).toEqual(world.people);
    expect(small.cars).toEqual(world.cars);
  });
});
