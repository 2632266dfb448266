import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readTester } from '@/lib/registry/accounts/tester';
import { readComparison } from '@/lib/registry/comparisons/compare';
import { readHome } from '@/lib/registry/home/home';
import { readLoop } from '@/lib/registry/loops/loop';
import { readLoops } from '@/lib/registry/loops/loops';
import { readModel } from '@/lib/registry/models/model';
import { readModels } from '@/lib/registry/models/models';
import { readProtocolPage } from '@/lib/registry/protocol/protocolPage';
import { readRankings } from '@/lib/registry/rankings/rankings';
import { runJobsNow } from '@/lib/registry/runJobs';
import { readSetup } from '@/lib/registry/setups/setup';
import type { Actor } from '@/lib/run/roles';
import { TEMPERATURE_BANDS } from '@/lib/run/temperatureBand';
import { freshDatabase } from '@/test/helpers/database';
import {
  approved,
  loopOf,
  person,
  registryOn,
  submitted,
  type Vehicle,
  vehicleOf,
} from '@/test/helpers/smallRegistry';

const { prisma } = await freshDatabase();
const { registry, remove } = await registryOn(prisma);
afterAll(remove);

let tester: Actor;
let reviewer: Actor;
let vehicle: Vehicle;
let slugs: { base: string; low: string };
/** Energy shown at the finish, kWh: one run of each setup in every session. */
const DAYS = [
  { day: '2026-05-12', base: '32.6', low: '31.1' },
  { day: '2026-05-13', base: '33.2', low: '31.5' },
  { day: '2026-05-14', base: '33.0', low: '31.3' },
  { day: '2026-05-15', base: '32.8', low: '31.2' },
  { day: '2026-05-16', base: '33.1', low: '31.4' },
  { day: '2026-05-17', base: '32.9', low: '31.1' },
];
const wanted = { percent: 2, power: 0.8 };

beforeAll(async () => {
  expect((await readHome(registry, undefined)).isUnclaimed).toBe(true);
  tester = await person(registry, 'Mira Holm');
  reviewer = await person(registry, 'Ada Quill', 'reviewer');
  vehicle = await vehicleOf(registry, tester);
  const loopId = await loopOf(registry, tester);
  const driven = DAYS.flatMap(
    ({ day, base, low }) =>
      [
        [day, vehicle.baselineId, base],
        [day, vehicle.lowId, low],
      ] as const,
  );
  for (const [day, setupId, energy] of driven) {
    const form = {
      carId: vehicle.carId,
      setupId,
      loopId,
      startedAtLocal: `${day}T${setupId === vehicle.lowId ? '11' : '09'}:00`,
      tripEnergy: energy,
      tripEfficiency: (66.8 / Number(energy)).toFixed(2),
      rangeStart: setupId === vehicle.lowId ? '352' : '320',
    };
    await approved(registry, tester, reviewer, form);
  }
  await submitted(registry, tester, {
    carId: vehicle.carId,
    setupId: vehicle.lowId,
    loopId,
    startedAtLocal: '2026-05-18T09:00',
    tripEnergy: '31.6',
    tripEfficiency: '2.11',
  });
  await runJobsNow(registry);
  const slugOf = async (id: string) => (await prisma.setup.findUniqueOrThrow({ where: { id } })).slug;
  slugs = { base: await slugOf(vehicle.baselineId), low: await slugOf(vehicle.lowId) };
}, 120_000);

describe('the comparison', () => {
  it('says the same from both sides', async () => {
    const one = await readComparison(registry, { setupSlugs: [slugs.base, slugs.low], wanted });
    const other = await readComparison(registry, { setupSlugs: [slugs.low, slugs.base], wanted });
    const down = one?.differences[0];
    const up = other?.differences[0];
    expect(one?.baseline?.setupId).toBe(vehicle.baselineId);
    // 31.3 against 32.9 kWh: about 5 % less.
    expect(down?.percent).toBeLessThan(-3);
    expect((1 + (down?.percent ?? 0) / 100) * (1 + (up?.percent ?? 0) / 100)).toBeCloseTo(1, 9);
    const [low = Number.NaN, high = Number.NaN] = down?.simultaneous ?? [];
    expect(low).toBeLessThan(down?.percent ?? 0);
    expect(high).toBeGreaterThan(down?.percent ?? 0);
    expect((1 + low / 100) * (1 + (up?.simultaneous?.[1] ?? 0) / 100)).toBeCloseTo(1, 9);
    expect(down?.connection).toContain('shared session');
    expect(down?.refusal).toBeNull();
  });

  it('has what the displays promised for a whole charge, by setup, and the setup’s page as well', async () => {
    const view = await readComparison(registry, { setupSlugs: [slugs.base, slugs.low], wanted });
    const promised = (setupId: string) => view?.promises.get(setupId);
    // 320 and 352 km at 80 %
    expect(Math.exp(promised(vehicle.baselineId)?.promised.value ?? 0)).toBeCloseTo(400_000, 3);
    expect(Math.exp(promised(vehicle.lowId)?.promised.value ?? 0)).toBeCloseTo(440_000, 3);
    expect([...(view?.promises.values() ?? [])].map(({ runs }) => runs)).toEqual([6, 6]);
    // 66.8 miles for 29 % of the charge
    const given = (66.8 * 1609.344) / 0.29;
    const { promise } = (await readSetup(registry, slugs.low)) ?? {};
    expect(Math.exp(promise?.overGiven.value ?? 0)).toBeCloseTo(440_000 / given, 6);
  });

  it('shows every session in which both were driven, and raw beside normalised', async () => {
    const view = await readComparison(registry, { setupSlugs: [slugs.base, slugs.low], wanted });
    const difference = view?.differences[0];
    expect(difference?.pairs.latest.map((pair) => pair.date)).toEqual(DAYS.map(({ day }) => day));
    expect(difference?.pairs.latest.every((pair) => pair.normalisedPercent < 0)).toBe(true);
    const sum = (side: 'base' | 'low') => DAYS.reduce((total, day) => total + Number(day[side]), 0);
    const raw = sum('low') / sum('base');
    // Means of consumption over one distance; the reconciled energies move it by less than half a per cent.
    expect(Math.abs((difference?.rawPercent ?? 0) - 100 * (raw - 1))).toBeLessThan(0.5);
  });

  it('gives the difference over 100 km at the baseline’s estimate', async () => {
    const view = await readComparison(registry, { setupSlugs: [slugs.base, slugs.low], wanted });
    const { onTripWh, percent } = view?.differences[0] ?? {};
    const baselineWh = 100 * (view?.baseline?.estimateWhPerKm ?? 0);
    expect(onTripWh?.difference).toBeCloseTo((baselineWh * (percent ?? 0)) / 100, 6);
  });

  it('names setups that it does not know and compares nothing with one alone', async () => {
    const view = await readComparison(registry, { setupSlugs: [slugs.base, 'nothing-such'], wanted });
    expect(view?.unknownSlugs).toEqual(['nothing-such']);
    expect(view?.differences).toEqual([]);
  });
});

describe('what readers see of models, setups, loops and testers', () => {
  it('a model with its single change', async () => {
    const { slug } = await prisma.vehicleModel.findUniqueOrThrow({ where: { id: vehicle.modelId } });
    const view = await readModel(registry, slug);
    expect(view?.baseline?.setupId).toBe(vehicle.baselineId);
    expect(
      view?.changes.map((change) => `${change.factorLabel}: ${change.from.label} to ${change.to.label}`),
    ).toEqual(['Ride height: normal to low']);
    const change = view?.changes[0];
    expect(change?.withinSessions?.sessions).toBe(6);
    // The same sessions stand behind both numbers.
    expect(Math.abs((change?.withinSessions?.percent ?? 0) - (change?.percent ?? 99))).toBeLessThan(0.5);
    expect((await readModels(registry)).rows.map((model) => model.approvedRuns)).toEqual([12]);
    expect(await readModel(registry, 'nothing-such')).toBeUndefined();
  });

  it('a setup with the runs behind its estimate and nothing that waits for review', async () => {
    const view = await readSetup(registry, slugs.low);
    expect(view?.runs.rows).toHaveLength(6);
    expect(view?.counts).toEqual({ runs: 6, notNormalised: 0, sessions: 6, cars: 1 });
    expect(view?.density).toBeUndefined();
    expect(view?.sessions.map((session) => session.runs.length)).toEqual([1, 1, 1, 1, 1, 1]);
    expect(view?.estimates.map((estimate) => estimate.runs)).toEqual([6]);
    expect(view?.differsIn).toEqual(['rideHeight']);
    expect(view?.sessions.every((session) => session.car === 'Mira Holm')).toBe(true);
    expect(await readSetup(registry, 'nothing-such')).toBeUndefined();
  });

  it('a loop with its legs and counts', async () => {
    const [listed] = (await readLoops(registry)).rows;
    const view = await readLoop(registry, listed?.slug ?? '');
    expect(view?.counts).toEqual({ runs: 12, cars: 1, testers: 1, setups: 2, days: 6 });
    expect(view?.legs.map((leg) => Math.round(leg.mainBearingDeg ?? Number.NaN))).toEqual([20, 200]);
    expect(view?.turnaroundAtM).toBe(53_750);
    expect(view?.outline).toEqual([]);
    // No setup was driven twice in a session.
    expect(view?.repeatability).toBeNull();
  });

  it('a tester by the chosen name, never by address or by a car’s own name', async () => {
    const view = await readTester(registry, 'mira-holm');
    expect(view?.publicRuns).toBe(12);
    expect(view?.models.map((model) => [model.cars, model.runs])).toEqual([[1, 12]]);
    const { name } = await prisma.car.findUniqueOrThrow({ where: { id: vehicle.carId } });
    expect(JSON.stringify(view)).not.toContain(name);
    expect(JSON.stringify(view)).not.toContain('@');
    // A reviewer who published nothing has no page.
    expect(await readTester(registry, 'ada-quill')).toBeUndefined();
  });

  it('the protocol in force by itself and by its label', async () => {
    const active = await readProtocolPage(registry);
    expect(active?.groups.flatMap((group) => group.rules).length).toBeGreaterThan(20);
    expect((await readProtocolPage(registry, active?.label))?.label).toBe(active?.label);
    expect(active?.further.map(({ path }) => path)).toContain('ranking.carsAcrossModels');
    expect(await readProtocolPage(registry, 'nothing-such')).toBeUndefined();
  });

  it('rankings by plain means: of the runs that pass, each counted once, without interval or word', async () => {
    const counted = await prisma.countedRun.findMany({
      include: { run: { include: { revisions: { include: { conditions: true, protocolVersion: true } } } } },
    });
    const temperatureOf = (row: (typeof counted)[number]) =>
      row.run.revisions.at(-1)?.conditions?.airTemperatureC ?? Number.NaN;
    let seen = 0;
    for (const { key, fromC, belowC } of TEMPERATURE_BANDS) {
      const own = counted.filter(
        (row) => temperatureOf(row) >= (fromC ?? -99) && temperatureOf(row) < (belowC ?? 99),
      );
      const view = await readRankings(registry, { temperature: key, isRaw: true });
      seen += own.length;
      expect(view?.ranked.reduce((sum, { runs }) => sum + runs, 0)).toBe(own.length);
      for (const { setupId, estimateWhPerKm, lowWhPerKm, against } of view?.ranked ?? []) {
        const values = own.filter((row) => row.setupId === setupId).map((row) => row.measuredWhPerKm ?? 0);
        expect(estimateWhPerKm).toBeCloseTo(values.reduce((a, b) => a + b, 0) / values.length, 9);
        expect([lowWhPerKm, against]).toEqual([null, null]);
      }
    }
    expect(seen).toBe(12);
    const label = counted[0]?.run.revisions.at(-1)?.protocolVersion.label;
    const byProtocol = async (protocol: string | undefined) =>
      (await readRankings(registry, { protocol }))?.ranked.map(({ runs }) => runs);
    expect(await byProtocol(label)).toEqual([6, 6]);
    expect(await byProtocol('no such version')).toEqual([]);
  });

  it('home: counts of approved runs, and what waits for the one who looks', async () => {
    const reader = await readHome(registry, undefined);
    expect(reader).toMatchObject({
      isUnclaimed: false,
      lacksSteward: true,
      world: 'record',
      waiting: undefined,
    });
    expect(reader.counts).toMatchObject({
      approved: 12,
      setups: 2,
      cars: 1,
      testers: 1,
      loops: 1,
      models: 1,
    });
    expect(reader.latest[0]?.date).toBe('2026-05-17');
    // the one change there is, as the comparison has it
    const compared = await readComparison(registry, { setupSlugs: [slugs.base, slugs.low], wanted });
    const [difference] = compared?.differences ?? [];
    expect(reader.answers).toHaveLength(1);
    expect(reader.answers[0]).toMatchObject({
      word: difference?.word,
      percent: difference?.percent,
      simultaneous: difference?.simultaneous,
      sideBySide: { total: difference?.pairs.total, lower: difference?.pairs.lower },
    });
    expect((await readHome(registry, reviewer)).waiting?.reviews).toBe(1);
    expect((await readHome(registry, tester)).waiting?.reviews).toBe(0);
  });
});
