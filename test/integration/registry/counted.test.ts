import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { checkCounted } from '@/lib/registry/counted/checkCounted';
import { fillCounted, recountRun } from '@/lib/registry/counted/countRun';
import { fillCountedRuns, showVersion } from '@/lib/registry/counted/showVersion';
import { readLoop } from '@/lib/registry/loops/loop';
import { refitGroup } from '@/lib/registry/rankings/refitGroup';
import { runJobsNow } from '@/lib/registry/runJobs';
import { readPublicRuns } from '@/lib/registry/runs/publicRuns';
import { retractRun } from '@/lib/registry/runs/retractRun';
import type { Actor } from '@/lib/run/roles';
import { RECORD } from '@/lib/run/world';
import { freshDatabase } from '../../helpers/database';
import {
  approved,
  loopOf,
  person,
  registryOn,
  type SubmittedRunRef,
  submitted,
  vehicleOf,
} from '../../helpers/smallRegistry';

const { prisma } = await freshDatabase();
const { registry, remove } = await registryOn(prisma);
afterAll(remove);

let tester: Actor;
const runs: SubmittedRunRef[] = [];

beforeAll(async () => {
  tester = await person(registry, 'Mira Holm');
  const reviewer = await person(registry, 'Ada Quill', 'reviewer');
  const vehicle = await vehicleOf(registry, tester);
  const loopId = await loopOf(registry, tester);
  const winds = new Map([
    [6, { windSpeed: '2', windFrom: '350' }],
    [9, { windSpeed: '4', windFrom: '10' }],
    [12, { windSpeed: '0', windFrom: '' }],
  ]);
  const form = (hour: number) => ({
    ...winds.get(hour),
    carId: vehicle.carId,
    setupId: hour % 2 === 0 ? vehicle.baselineId : vehicle.lowId,
    loopId,
    startedAtLocal: `2026-05-10T${String(hour).padStart(2, '0')}:00`,
  });
  for (const hour of [6, 9, 12, 15]) runs.push(await approved(registry, tester, reviewer, form(hour)));
  await submitted(registry, tester, form(18));
}, 120_000);

const rows = () => prisma.countedRun.findMany({ orderBy: [{ number: 'asc' }, { methodVersion: 'asc' }] });
const shown = async () =>
  (await prisma.countedLabel.findUniqueOrThrow({ where: { world: 'record' } })).methodVersion;
const differences = async () => (await checkCounted(registry)).flatMap((check) => check.differences);
const first = () => runs[0] as SubmittedRunRef;

describe('a run that counts', () => {
  it('has one row from its approval on, with the numbers of its approved revision', async () => {
    expect((await rows()).map(({ number }) => number)).toEqual(runs.map(({ runNumber }) => runNumber));
    const [row] = await rows();
    const result = await prisma.normalisation.findFirstOrThrow({
      where: { revision: { runId: first().runId }, methodVersion: await shown() },
    });
    expect(row?.z).toBe(Math.log(result.normalisedWhPerKm as number));
    expect(row).toMatchObject({
      u: result.uRunRelative,
      uWhPerKm: result.uWhPerKm,
      measuredWhPerKm: result.measuredWhPerKm,
    });
    const parts = row?.parts as { scope: string; contribution: number }[];
    // Of independent inputs the variances add up: the run's own part and the shared ones make the whole.
    const shared = parts.reduce((sum, part) => sum + part.contribution ** 2, 0);
    const whole = ((result.uWhPerKm as number) / (result.normalisedWhPerKm as number)) ** 2;
    expect(shared + (result.uRunRelative as number) ** 2).toBeCloseTo(whole, 12);
    expect(await differences()).toEqual([]);
  });

  it('is found wrong where its row is missing, altered, or of a run that does not count', async () => {
    const [one, two] = await rows();
    if (one === undefined || two === undefined) throw new Error('no rows');
    await prisma.countedRun.deleteMany({ where: { runId: one.runId } });
    await prisma.countedRun.updateMany({ where: { runId: two.runId }, data: { u: 0.5 } });
    expect(await differences()).toEqual([`run ${one.number} has no row`, `run ${two.number} differs in u`]);
    await prisma.countedRun.deleteMany({});
    await fillCountedRuns(registry);
    expect(await differences()).toEqual([]);
    await prisma.run.update({ where: { id: one.runId }, data: { status: 'submitted' } });
    expect(await differences()).toEqual(['1 rows are of runs that do not count']);
    await prisma.run.update({ where: { id: one.runId }, data: { status: 'approved' } });
  });
});

describe('the wind of a loop’s runs', () => {
  it('is summed up from their rows, calm apart, as it was stated', async () => {
    const { slug } = await prisma.loop.findFirstOrThrow();
    const wind = (await readLoop(registry, slug))?.wind;
    // 2 m/s from 350° and 4 m/s from 10° in the sector about north, the form's own 3 m/s from 240°, and one calm
    expect(wind).toMatchObject({ runs: 3, without: 1 });
    const blown = wind?.sectors.filter(({ runs: count }) => count > 0);
    expect(blown).toMatchObject([
      { bearingDeg: 0, runs: 2, share: 2 / 3, meanSpeedMps: 3 },
      { bearingDeg: 240, runs: 1, share: 1 / 3, meanSpeedMps: 3 },
    ]);
  });

  it('is filled in by the migration for rows from before it', async () => {
    const before = await rows();
    await prisma.countedRun.updateMany({ data: { windSpeedMps: null, windFromDeg: null } });
    expect(await differences()).toContain(`run ${first().runNumber} differs in windSpeedMps, windFromDeg`);
    const sql = readFileSync('prisma/migrations/20261126170500_winds_of_counted_runs/migration.sql', 'utf8');
    await prisma.$executeRawUnsafe(sql.slice(sql.indexOf('UPDATE')));
    expect(await rows()).toEqual(before);
    expect(await differences()).toEqual([]);
  });
});

describe('a row whose shared parts cannot be read', () => {
  it('is left out of the fit with the reason, and the others are fitted', async () => {
    const group = { cruiseClassKey: (await rows())[0]?.cruiseClassKey ?? '', world: RECORD };
    const whole = await refitGroup(registry, group);
    await prisma.countedRun.updateMany({
      where: { runId: first().runId },
      data: { parts: [{ input: 'massKg', scope: 'planet', key: 'x', contribution: 0.01 }] },
    });
    const fit = await refitGroup(registry, group);
    expect(fit.nUsed).toBe(whole.nUsed - 1);
    const stored = await prisma.fit.findFirstOrThrow({
      where: { isCurrent: true, group },
      select: { summary: true },
    });
    expect(stored.summary).toMatchObject({
      nIn: whole.nIn,
      excluded: [{ runId: first().runId, reason: expect.stringContaining('in common with other runs') }],
    });
    await prisma.countedRun.deleteMany({});
    await fillCountedRuns(registry);
    expect((await refitGroup(registry, group)).nUsed).toBe(whole.nUsed);
  });
});

describe('a registry from before the table', () => {
  it('is filled once, with what approvals write, and not again', async () => {
    const before = await rows();
    await prisma.countedRun.deleteMany({});
    await prisma.countedLabel.deleteMany({});
    await fillCountedRuns(registry);
    expect(await rows()).toEqual(before);
    await fillCountedRuns(registry);
    expect(await fillCounted(registry.db, RECORD, await shown())).toBe(0);
    expect(await rows()).toEqual(before);
  });
});

describe('a new version of the method', () => {
  it('shows at once when its last row is written, never beside the one before', async () => {
    const old = await shown();
    const numbers = async () =>
      (await readPublicRuns(registry, { world: RECORD }, 1000)).map((run) => run.normalisedWhPerKm);
    const before = await numbers();
    const results = await prisma.normalisation.findMany({
      where: { methodVersion: old },
      include: { revision: { select: { runId: true } } },
    });
    // 1 % more for all but the last run, whose revision the new version cannot compute
    for (const { revision, normalisedWhPerKm, ...result } of results) {
      if (revision.runId === runs[3]?.runId) continue;
      await prisma.normalisation.create({
        data: {
          ...result,
          input: result.input as object,
          result: result.result as object,
          methodVersion: 'next',
          normalisedWhPerKm: 1.01 * (normalisedWhPerKm as number),
        },
      });
      if (revision.runId === first().runId)
        await prisma.$transaction((tx) => recountRun(tx, first().runId, 'next'));
    }
    expect(await prisma.countedRun.count({ where: { methodVersion: 'next' } })).toBe(1);
    expect(await numbers()).toEqual(before);
    let asked = 0;
    const move = () =>
      showVersion(registry, RECORD, 'next', async () => {
        asked += 1;
      });
    expect(await move()).toBe(true);
    expect(await move()).toBe(false);
    expect(asked).toBe(1);
    expect(await shown()).toBe('next');
    const [last, ...others] = await numbers();
    expect(last).toBeNull();
    for (const [index, value] of others.entries())
      expect(value).toBeCloseTo(1.01 * (before[index + 1] as number), 9);
    expect(await differences()).toEqual([]);
    const fit = await refitGroup(registry, { world: RECORD, cruiseClassKey: 'mph-70' });
    expect(fit.nUsed).toBe(3);
    // back again, and on to a third: the rows of the one before the last are gone
    expect(await showVersion(registry, RECORD, old, async () => {})).toBe(true);
    expect(await numbers()).toEqual(before);
    expect(await showVersion(registry, RECORD, 'third', async () => {})).toBe(true);
    expect(new Set((await rows()).map(({ methodVersion }) => methodVersion))).toEqual(
      new Set([old, 'third']),
    );
    expect(await showVersion(registry, RECORD, old, async () => {})).toBe(true);
    await prisma.normalisation.deleteMany({ where: { methodVersion: 'next' } });
  });
});

describe('a run that counts no more', () => {
  it('has no row from its retraction on, under any version, and is in no fit', async () => {
    await runJobsNow(registry);
    await retractRun(registry, tester, {
      runId: first().runId,
      reason: 'The tyres were not the stated ones.',
    });
    expect(await prisma.countedRun.count({ where: { runId: first().runId } })).toBe(0);
    expect(await differences()).toEqual([]);
    await runJobsNow(registry);
    const fit = await prisma.fit.findFirstOrThrow({ where: { isCurrent: true } });
    expect(fit.runCount).toBe(3);
  });
});

describe('reads of counted runs', () => {
  it.each([
    [
      'of a fit',
      `"world" = 'record' AND "methodVersion" = 'x' AND "cruiseClassKey" = 'mph-70' AND "number" > 5 ORDER BY "number"`,
    ],
    [
      'of a setup’s list',
      `"setupId" = '00000000-0000-7000-8000-000000000001' AND "methodVersion" = 'x' ORDER BY "day" DESC, "number" DESC`,
    ],
    [
      'of a loop’s list',
      `"loopId" = '00000000-0000-7000-8000-000000000001' AND "methodVersion" = 'x' ORDER BY "day" DESC, "number" DESC`,
    ],
    [
      'of a tester’s list',
      `"testerId" = '00000000-0000-7000-8000-000000000001' AND "methodVersion" = 'x' ORDER BY "day" DESC, "number" DESC`,
    ],
    [
      'of a model’s list',
      `"modelId" = '00000000-0000-7000-8000-000000000001' AND "methodVersion" = 'x' ORDER BY "day" DESC, "number" DESC`,
    ],
    ['of the latest', `"world" = 'record' AND "methodVersion" = 'x' ORDER BY "day" DESC, "number" DESC`],
  ])('%s are served by an index, already in order', async (_what, where) => {
    const plan = await prisma.$transaction(async (tx) => {
      await tx.$executeRawUnsafe('SET LOCAL enable_seqscan = off');
      await tx.$executeRawUnsafe('SET LOCAL enable_bitmapscan = off');
      return tx.$queryRawUnsafe<Record<string, string>[]>(
        `EXPLAIN SELECT * FROM "CountedRun" WHERE ${where} LIMIT 50`,
      );
    });
    const text = plan.map((line) => line['QUERY PLAN']).join('\n');
    expect(text).toMatch(/Index Scan/);
    expect(text).not.toMatch(/Sort/);
  });
});
