import { afterAll, beforeAll, describe, expect, it } from 'vitest';
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
    { day, hour: '09', setupId: vehicle.baselineId, energy: 32.4 },
    { day, hour: '11', setupId: vehicle.lowId, energy: 30.9 },
  ]);
  for (const [index, { day, hour, setupId, energy }] of driven.entries()) {
    const tripEnergy = energy + index / 20;
    await approved(registry, tester, reviewer, {
      carId: vehicle.carId,
      setupId,
      loopId,
      startedAtLocal: `2026-05-${day}T${hour}:00`,
      tripEnergy: tripEnergy.toFixed(1),
      tripEfficiency: (66.8 / tripEnergy).toFixed(2),
    });
  }
  await runJobsNow(registry);
  await cloneRuns(prisma, CLONES);
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
    expect(view?.spread?.of.sessions).toBe(RUNS / 2);
    expect(view?.spread?.cars.flatMap((car) => car.sessions)).toHaveLength(50);
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
