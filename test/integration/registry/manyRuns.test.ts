import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readComparison } from '@/lib/registry/comparisons/compare';
import { readModel } from '@/lib/registry/models/model';
import { refitGroup } from '@/lib/registry/rankings/refitGroup';
import { runJobsNow } from '@/lib/registry/runJobs';
import { readSetup } from '@/lib/registry/setups/setup';
import type { Actor } from '@/lib/run/roles';
import { cloneRuns } from '@/test/helpers/cloneRuns';
import { freshDatabase } from '@/test/helpers/database';
import { approved, loopOf, person, registryOn, type Vehicle, vehicleOf } from '@/test/helpers/smallRegistry';

const { prisma } = await freshDatabase();
const { registry, remove } = await registryOn(prisma);
afterAll(remove);

/** Of each of the eight runs that are driven; no two clones of one run share a session. */
const CLONES = 400;
const RUNS = 8 * (CLONES + 1);
const MOST_BYTES = 300_000;

let vehicle: Vehicle;
const slugs = { base: '', low: '' };
const sizeOf = (view: unknown) => Buffer.byteLength(JSON.stringify(view));

beforeAll(async () => {
  const tester: Actor = await person(registry, 'Mira Holm');
  const reviewer = await person(registry, 'Ada Quill', 'reviewer');
  vehicle = await vehicleOf(registry, tester);
  const loopId = await loopOf(registry, tester);
  const driven = ['12', '13', '14', '15'].flatMap((day) => [
    { day, hour: '09', setupId: vehicle.baselineId, energy: 32.6 },
    { day, hour: '11', setupId: vehicle.lowId, energy: 31.1 },
  ]);
  for (const [index, { day, hour, setupId, energy }] of driven.entries()) {
    const tripEnergy = (energy + index / 20).toFixed(1);
    await approved(registry, tester, reviewer, {
      carId: vehicle.carId,
      setupId,
      loopId,
      startedAtLocal: `2026-05-${day}T${hour}:00`,
      tripEnergy,
      tripEfficiency: (66.8 / Number(tripEnergy)).toFixed(2),
    });
  }
  await runJobsNow(registry);
  await cloneRuns(prisma, CLONES);
  // Runs of one session differ by more than their own uncertainties, so that the fit has a spread to weigh deviations against.
  await prisma.$executeRaw`UPDATE "CountedRun" SET "z" = "z" + 0.05 * sin("number" * 12.9898)`;
  await refitGroup(registry, { cruiseClassKey: 'mph-70', world: 'record' });
  for (const [name, id] of [
    ['base', vehicle.baselineId],
    ['low', vehicle.lowId],
  ] as const)
    slugs[name] = (await prisma.setup.findUniqueOrThrow({ where: { id } })).slug;
}, 180_000);

describe('the page of a setup with thousands of runs', () => {
  it('stays below a bound and says how many there are', async () => {
    const view = await readSetup(registry, slugs.low);
    expect(view?.counts).toEqual({ runs: RUNS / 2, notNormalised: 0, sessions: RUNS / 2, cars: 1 });
    expect(view?.sessions).toHaveLength(50);
    const spread = view?.spread === 'due' ? undefined : view?.spread;
    expect(spread?.of.sessions).toBe(RUNS / 2);
    expect(spread?.cars.flatMap((car) => car.sessions)).toHaveLength(50);
    expect(sizeOf(view)).toBeLessThan(MOST_BYTES);
  });

  it('draws the latest sessions', async () => {
    const view = await readSetup(registry, slugs.low);
    const latest = await prisma.countedRun.findMany({
      where: { setupId: vehicle.lowId },
      orderBy: [{ day: 'desc' }, { number: 'desc' }],
      take: 50,
    });
    const drawn = view?.sessions.flatMap((session) => session.runs.map(({ number }) => number)) ?? [];
    expect([...drawn].sort((a, b) => a - b)).toEqual(
      latest.map(({ number }) => number).sort((a, b) => a - b),
    );
  });

  it('counts every run in a bin and puts the quantiles where a sort of all puts them', async () => {
    const { density } = (await readSetup(registry, slugs.low)) ?? {};
    const rows = await prisma.countedRun.findMany({ where: { setupId: vehicle.lowId }, select: { z: true } });
    const values = rows.map(({ z }) => Math.exp(z ?? Number.NaN)).sort((a, b) => a - b);
    expect(density?.runs).toBe(values.length);
    expect(density?.bins.reduce((sum, count) => sum + count, 0)).toBe(values.length);
    expect(density?.leastWhPerKm).toBeCloseTo(values[0] ?? Number.NaN, 9);
    // SQL:2003's percentile_cont: linear between the neighbours of place 1 + share·(n − 1).
    const at = (share: number) => {
      const place = share * (values.length - 1);
      const low = values[Math.floor(place)] ?? Number.NaN;
      return low + (place - Math.floor(place)) * ((values[Math.ceil(place)] ?? Number.NaN) - low);
    };
    density?.quantilesWhPerKm.forEach((value, index) => {
      expect(value).toBeCloseTo(at([0.05, 0.25, 0.5, 0.75, 0.95][index] ?? Number.NaN), 9);
    });
    const [least = Number.NaN, most = Number.NaN] = [values[0], values.at(-1)];
    const middle = Math.floor((60 * ((values[1000] ?? Number.NaN) - least)) / (most - least));
    const inBin = values.filter((value) => Math.floor((60 * (value - least)) / (most - least)) === middle);
    expect(density?.bins[middle]).toBe(inBin.length);
  });
});

describe('the page of a model with thousands of runs', () => {
  it('stays below a bound and says what every session says', async () => {
    const { slug } = await prisma.vehicleModel.findUniqueOrThrow({ where: { id: vehicle.modelId } });
    const view = await readModel(registry, slug);
    expect(view?.runs.total).toBe(RUNS);
    expect(view?.runs.rows).toHaveLength(25);
    expect(view?.changes[0]?.withinSessions?.sessions).toBe(RUNS / 2);
    expect(sizeOf(view)).toBeLessThan(MOST_BYTES);
  });
});

describe('the comparison of setups with thousands of shared sessions', () => {
  it('stays below a bound, lists the latest pairs and tells of all', async () => {
    const view = await readComparison(registry, {
      setupSlugs: [slugs.base, slugs.low],
      wanted: { percent: 2, power: 0.8 },
    });
    const pairs = view?.differences[0]?.pairs;
    const rows = await prisma.countedRun.findMany({ select: { sessionId: true, setupId: true, z: true } });
    const bySession = new Map<string, number>();
    for (const { sessionId, setupId, z } of rows) {
      const signed = setupId === vehicle.lowId ? (z ?? 0) : -(z ?? 0);
      bySession.set(sessionId, (bySession.get(sessionId) ?? 0) + signed);
    }
    const differences = [...bySession.values()].sort((a, b) => a - b);
    expect(pairs?.latest).toHaveLength(50);
    expect(pairs?.total).toBe(differences.length);
    expect(pairs?.lower).toBe(differences.filter((difference) => difference < 0).length);
    const middle = (differences.length - 1) / 2;
    const median = ((differences[Math.floor(middle)] ?? 0) + (differences[Math.ceil(middle)] ?? 0)) / 2;
    expect(pairs?.quartilesPercent[1]).toBeCloseTo(100 * Math.expm1(median), 9);
    const dates = pairs?.latest.map(({ date }) => date) ?? [];
    expect(dates).toEqual([...dates].sort());
    expect(dates.at(-1)).toBe('2026-05-15');
    expect(sizeOf(view)).toBeLessThan(MOST_BYTES);
  });

  it('offers setups by their names, and keeps to be seen what is chosen', async () => {
    const read = (find?: string) =>
      readComparison(registry, { setupSlugs: [slugs.base], find, wanted: { percent: 2, power: 0.8 } });
    const slugsOf = async (find?: string) =>
      (await read(find))?.choices.flatMap(({ setups }) => setups.map(({ slug }) => slug)).sort();
    expect(await slugsOf()).toEqual([slugs.base, slugs.low].sort());
    expect(await slugsOf('skerry')).toEqual([slugs.base, slugs.low].sort());
    for (const find of ['nothing such', '\0x', '__proto__'])
      expect(await slugsOf(find)).toEqual([slugs.base]);
    expect((await read())?.notOffered).toBe(0);
  });

  it('compares no more setups than a page holds and says how many it left out', async () => {
    const more = Array.from({ length: 30 }, (_, index) => `nothing-such-${index}`);
    const view = await readComparison(registry, {
      setupSlugs: [slugs.base, slugs.low, ...more],
      wanted: { percent: 2, power: 0.8 },
    });
    expect(view?.differences).toHaveLength(1);
    expect(view?.leftOut).toBe(8);
  });
});
