import { PrismaPg } from '@prisma/adapter-pg';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { myNotifications } from '@/lib/registry/accounts/notifications';
import { readPeople } from '@/lib/registry/accounts/people';
import { readTester } from '@/lib/registry/accounts/tester';
import { readAuditLog } from '@/lib/registry/audit/auditLog';
import { modelChoices } from '@/lib/registry/cars/carChoices';
import { displayOfCar } from '@/lib/registry/cars/carDisplay';
import { importNames } from '@/lib/registry/imports/planImport';
import type { Page } from '@/lib/registry/keyset';
import { readLoop } from '@/lib/registry/loops/loop';
import { readLoops } from '@/lib/registry/loops/loops';
import { readModels } from '@/lib/registry/models/models';
import { readRankings } from '@/lib/registry/rankings/rankings';
import { refitGroup } from '@/lib/registry/rankings/refitGroup';
import { readQueue } from '@/lib/registry/review/queue';
import { chooseLoop, loopChoice } from '@/lib/registry/runs/chooseLoop';
import { fieldLists } from '@/lib/registry/runs/fieldCard';
import { myRuns } from '@/lib/registry/runs/myRuns';
import { readPublicRuns } from '@/lib/registry/runs/publicRuns';
import { recordForm } from '@/lib/registry/runs/recordForm';
import { readRun } from '@/lib/registry/runs/run';
import { readRunList } from '@/lib/registry/runs/runList';
import { startDraft } from '@/lib/registry/runs/startDraft';
import { readSetup } from '@/lib/registry/setups/setup';
import { Conflict, InvalidInput, NotAllowed, NotFound } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
import { squaresAboutMean } from '@/lib/stats/anova';
import { PrismaClient } from '@/prisma/generated/client';
import { cloneRuns } from '@/test/helpers/cloneRuns';
import { freshDatabase } from '@/test/helpers/database';
import {
  approved,
  loopOf,
  person,
  registryOn,
  type SubmittedRunRef,
  submitted,
  vehicleOf,
} from '@/test/helpers/smallRegistry';

const { prisma, connection } = await freshDatabase();
const heard = new PrismaClient({
  adapter: new PrismaPg(connection),
  log: [{ emit: 'event', level: 'query' }],
});
const queries: { query: string; params: string }[] = [];
heard.$on('query', ({ query, params }) => queries.push({ query, params }));
const { registry, clock, remove } = await registryOn(heard);
afterAll(async () => {
  await heard.$disconnect();
  remove();
});

const CLONES = 600;
let tester: Actor;
let reviewer: Actor;
let steward: Actor;
let run: SubmittedRunRef;
let slugs: { loop: string; tester: string; setup: string };

beforeAll(async () => {
  tester = await person(registry, 'Mira Holm');
  reviewer = await person(registry, 'Ada Quill', 'reviewer');
  steward = await person(registry, 'Ines Marl', 'steward');
  const vehicle = await vehicleOf(registry, tester);
  const loopId = await loopOf(registry, tester);
  const form = (hour: number) => ({
    carId: vehicle.carId,
    setupId: vehicle.baselineId,
    loopId,
    startedAtLocal: `2026-05-10T${String(hour).padStart(2, '0')}:00`,
  });
  for (const hour of [6, 9, 12]) run = await approved(registry, tester, reviewer, form(hour));
  await submitted(registry, tester, form(15));
  await cloneRuns(prisma, CLONES);
  // Sessions of several runs again, so that there is something to repeat.
  await prisma.$executeRaw`
    UPDATE "CountedRun" SET "sessionId" = (SELECT "id" FROM "Session" ORDER BY "id" OFFSET number % 40 LIMIT 1)`;
  await prisma.$executeRaw`
    INSERT INTO "Account" ("id", "email", "displayName", "slug")
    SELECT gen_random_uuid(), 'p' || i || '@people.example', 'Person ' || i % 900, 'person-' || i
    FROM generate_series(1, 2000) i`;
  await prisma.$executeRaw`
    INSERT INTO "AuditEntry" ("actorId", "action", "subjectKind", "subjectId")
    SELECT ${tester.accountId}::uuid, 'run.saveDraft', 'run', CASE WHEN i % 4 = 0 THEN ${run.runId} ELSE i::text END
    FROM generate_series(1, 2000) i`;
  await prisma.$executeRaw`
    INSERT INTO "Notification" ("id", "accountId", "kind", "text", "href", "createdAt")
    SELECT gen_random_uuid(), ${tester.accountId}::uuid, 'decided', 'Notice ' || i, '/my',
      now() - (i / 3) * interval '1 minute'
    FROM generate_series(1, 1500) i`;
  // Names that repeat, so that the id has to part them.
  await prisma.$executeRaw`
    INSERT INTO "Loop" SELECT copy.* FROM "Loop" loop, generate_series(1, 700) i,
      LATERAL jsonb_populate_record(loop, jsonb_build_object('id', gen_random_uuid(), 'slug', 'loop-' || i,
        'name', 'Loop ' || i % 300)) copy`;
  await prisma.$executeRaw`
    INSERT INTO "VehicleModel" SELECT copy.* FROM "VehicleModel" model, generate_series(1, 700) i,
      LATERAL jsonb_populate_record(model, jsonb_build_object('id', gen_random_uuid(), 'slug', 'model-' || i,
        'modelYear', 1990 + i % 100, 'variant', 'trim ' || i)) copy`;
  await prisma.$executeRaw`ANALYZE`;
  const loop = await prisma.loop.findUniqueOrThrow({ where: { id: loopId } });
  const account = await prisma.account.findUniqueOrThrow({ where: { id: tester.accountId } });
  const setup = await prisma.setup.findUniqueOrThrow({ where: { id: vehicle.baselineId } });
  slugs = { loop: loop.slug, tester: account.slug, setup: setup.slug };
}, 240_000);

interface LongList {
  page: (from?: string) => Promise<{ view: unknown; list: Page<unknown> }>;
  key: string;
  count: () => Promise<number>;
  /** The table that is read and the index that serves the order. */
  table: string;
  index: RegExp;
}

const found = <T>(view: T | undefined): T => {
  if (view === undefined) throw new Error('there is such a page');
  return view;
};
const itself = <T extends Page<unknown>>(view: T) => ({ view, list: view });

const LISTS: Record<string, LongList> = {
  'runs of a setup in one class': {
    page: async (from) => {
      const view = found(await readSetup(registry, slugs.setup, { from }));
      return { view, list: view.runs };
    },
    key: 'number',
    count: () => prisma.countedRun.count(),
    table: 'CountedRun',
    index: /day_number/,
  },
  'runs of a loop': {
    page: async (from) => {
      const view = found(await readLoop(registry, slugs.loop, from));
      return { view, list: view.runs };
    },
    key: 'number',
    count: () => prisma.countedRun.count(),
    table: 'CountedRun',
    index: /day_number/,
  },
  'runs of a tester': {
    page: async (from) => {
      const view = found(await readTester(registry, slugs.tester, from));
      return { view, list: view.runs };
    },
    key: 'number',
    count: () => prisma.countedRun.count(),
    table: 'CountedRun',
    index: /day_number/,
  },
  'published runs': {
    page: async (from) => itself(await readRunList(registry, { from })),
    key: 'number',
    count: () => prisma.run.count({ where: { status: 'approved' } }),
    table: 'Run',
    index: /publishedDay_number/,
  },
  'the queue': {
    page: async (from) => itself(await readQueue(registry, reviewer, { from })),
    key: 'number',
    count: () => prisma.run.count({ where: { status: 'submitted' } }),
    table: 'Run',
    index: /status_submittedAt_number/,
  },
  loops: {
    page: async (from) => itself(await readLoops(registry, { from })),
    key: 'slug',
    count: () => prisma.loop.count(),
    table: 'Loop',
    index: /name_id/,
  },
  models: {
    page: async (from) => itself(await readModels(registry, { from })),
    key: 'slug',
    count: () => prisma.vehicleModel.count(),
    table: 'VehicleModel',
    index: /slug/,
  },
  people: {
    page: async (from) => itself(await readPeople(registry, steward, { from })),
    key: 'id',
    count: () => prisma.account.count(),
    table: 'Account',
    index: /displayName_id/,
  },
  'the audit log': {
    page: async (from) => itself(await readAuditLog(registry, steward, { from })),
    key: 'id',
    count: () => prisma.auditEntry.count(),
    table: 'AuditEntry',
    index: /AuditEntry_pkey/,
  },
  'the log of a run': {
    page: async (from) => {
      const view = found(await readRun(registry, undefined, run.runNumber, { logFrom: from }));
      return { view, list: view.audit };
    },
    key: 'id',
    count: () => prisma.auditEntry.count({ where: { subjectKind: 'run', subjectId: run.runId } }),
    table: 'AuditEntry',
    index: /AuditEntry_subjectKind_subjectId_id|AuditEntry_pkey/,
  },
  'my runs in one state': {
    page: async (from) => {
      const view = await myRuns(registry, tester, { statuses: ['approved'], from });
      return { view, list: found(view.pages[0]).page };
    },
    key: 'number',
    count: () => prisma.run.count({ where: { testerId: tester.accountId, status: 'approved' } }),
    table: 'Run',
    index: /testerId_status_draftSavedAt_number/,
  },
  notices: {
    page: async (from) => itself(await myNotifications(registry, tester, from)),
    key: 'id',
    count: () => prisma.notification.count({ where: { accountId: tester.accountId } }),
    table: 'Notification',
    index: /accountId_createdAt_id/,
  },
};

const HOSTILE = [
  '__proto__',
  'constructor',
  '\0',
  '9'.repeat(5000),
  ...[['after', ['2026-05-10', 1e15]], ['after', '-1'], ['before', ['x\0', 'y']], ['after', []], null].map(
    (value) => Buffer.from(JSON.stringify(value)).toString('base64url'),
  ),
];

describe.each(Object.entries(LISTS))('%s', (_, { page, key, count, table, index }) => {
  it('shows every row once, page by page, in small pages', async () => {
    const seen: unknown[] = [];
    let pages = 0;
    for (let from: string | undefined; pages === 0 || from !== undefined; pages += 1) {
      const { view, list } = await page(from);
      expect(list.rows.length).toBeLessThanOrEqual(50);
      if (pages < 2)
        expect(
          JSON.stringify(view, (_key, value) => (value instanceof Map ? [...value] : value)).length,
        ).toBeLessThan(300_000);
      seen.push(...list.rows.map((row) => (row as Record<string, unknown>)[key]));
      from = list.next;
    }
    expect(pages).toBeGreaterThan(10);
    expect(new Set(seen).size).toBe(seen.length);
    expect(seen.length).toBe(await count());
  });

  it('goes back to the page before', async () => {
    const first = (await page()).list;
    const second = (await page(first.next)).list;
    expect((await page(second.previous)).list.rows).toEqual(first.rows);
    expect(first.previous).toBeUndefined();
  });

  it('begins with the first page at a cursor that it never gave', async () => {
    const { rows } = (await page()).list;
    for (const from of HOSTILE) expect((await page(from)).list.rows).toEqual(rows);
  });

  it('is read through an index, without sorting', async () => {
    const { list } = await page((await page()).list.next);
    queries.length = 0;
    await page(list.next);
    const read = queries.find(
      ({ query }) => query.includes(`ORDER BY "public"."${table}"`) && query.includes('LIMIT'),
    );
    if (read === undefined) throw new Error('no query of a page');
    const rows = await prisma.$queryRawUnsafe<{ 'QUERY PLAN': string }[]>(
      `EXPLAIN ${read.query}`,
      ...(JSON.parse(read.params) as unknown[]),
    );
    const plan = rows.map((row) => row['QUERY PLAN']).join('\n');
    expect(plan).toMatch(index);
    expect(plan).not.toMatch(/Sort/);
  });
});

describe('the figures of a loop', () => {
  it('are those of all its runs', async () => {
    const view = found(await readLoop(registry, slugs.loop));
    const runs = await readPublicRuns(registry, { world: 'record' }, 10_000);
    const count = (of: (one: (typeof runs)[number]) => string) => new Set(runs.map(of)).size;
    expect(view.counts).toEqual({
      runs: runs.length,
      cars: 1,
      testers: 1,
      setups: 1,
      days: count(({ date }) => date),
    });
    expect(view.classes.map((one) => one.runs)).toEqual([runs.length]);
    const cells = [...new Set(runs.map(({ sessionId }) => sessionId))]
      .map((id) => runs.filter(({ sessionId }) => sessionId === id))
      .map((cell) => cell.map(({ normalisedWhPerKm }) => Math.log(normalisedWhPerKm as number)))
      .filter((values) => values.length > 1);
    const dof = cells.reduce((sum, values) => sum + values.length - 1, 0);
    const squares = cells.reduce((sum, values) => sum + squaresAboutMean(values), 0);
    expect(view.repeatability).toMatchObject({ cells: cells.length, dof });
    expect((view.repeatability?.sr ?? 0) / Math.sqrt(squares / dof)).toBeCloseTo(1, 10);
  });
});

describe('what a car’s runs say of its display', () => {
  it('is read from sixty results, however many the car has', async () => {
    const car = await prisma.countedRun.findFirstOrThrow({ select: { carId: true } });
    expect(await prisma.normalisation.count()).toBeGreaterThan(1000);
    queries.length = 0;
    await displayOfCar(heard, { carId: car.carId, world: 'record' });
    const read = queries.find(({ query }) => query.includes(`"result"->'energy'`));
    const plan = await prisma.$queryRawUnsafe<{ 'QUERY PLAN': string }[]>(
      `EXPLAIN ANALYZE ${read?.query}`,
      ...(JSON.parse(read?.params ?? '[]') as unknown[]),
    );
    const opened = plan.flatMap(({ 'QUERY PLAN': line }) => {
      const [, rows, loops] = / on "Normalisation".*actual.*rows=([\d.]+) loops=(\d+)/.exec(line) ?? [];
      return rows === undefined ? [] : [Number(rows) * Number(loops)];
    });
    expect(opened).toEqual([60]);
  });
});

describe('the page of a run', () => {
  it('shows at most 500 neighbours, both ends among them, and says how many there are', async () => {
    await refitGroup(registry, { cruiseClassKey: 'mph-70', world: 'record' });
    const { standing } = found(await readRun(registry, undefined, run.runNumber));
    if (standing === 'due') throw new Error('the fit says nothing of single runs');
    const values = (await readPublicRuns(registry, { world: 'record' }, 10_000))
      .filter(({ number }) => number !== run.runNumber)
      .map(({ normalisedWhPerKm }) => normalisedWhPerKm as number);
    const shown = (standing?.ofSetup.shown ?? []).map((one) => one.normalisedWhPerKm);
    expect(standing?.ofSetup.count).toBe(values.length);
    expect(shown.length).toBeGreaterThan(495);
    expect(shown.length).toBeLessThanOrEqual(503);
    expect(shown[0]).toBe(Math.min(...values));
    expect(shown.at(-1)).toBe(Math.max(...values));
  });
});

describe('the rankings', () => {
  const wanted = { classKey: 'mph-70', world: 'record' };
  const numbers = (rows: readonly { title: string }[]) => rows.map(({ title }) => Number(title.slice(6)));

  it('show a hundred setups at a time, in the order of their estimates, and what is not ranked apart', async () => {
    const { id: fitId } = await prisma.fit.findFirstOrThrow({ where: { isCurrent: true } });
    const { id: setupId } = await prisma.setup.findUniqueOrThrow({ where: { slug: slugs.setup } });
    await prisma.$executeRaw`
      INSERT INTO "Setup" SELECT copy.* FROM "Setup" setup, generate_series(1, 400) i,
        LATERAL jsonb_populate_record(setup, jsonb_build_object('id', gen_random_uuid(), 'slug', 'setup-' || i,
          'levelsKey', 'levels-' || i, 'title', 'Setup ' || i)) copy
      WHERE setup."id" = ${setupId}::uuid`;
    // Of every four the fourth is not ranked; the numbers of the setups are the order of the estimates.
    await prisma.$executeRaw`
      INSERT INTO "Estimate" SELECT copy.* FROM "Estimate" own, "Setup" setup,
        LATERAL (SELECT substr(setup."title", 7)::int AS "i") number,
        LATERAL jsonb_populate_record(own, jsonb_build_object('setupId', setup."id", 'isRanked', i % 4 > 0,
          'logMean', own."logMean" + i, 'rankLower', CASE WHEN i % 4 > 0 THEN 1 END,
          'rankUpper', CASE WHEN i % 4 > 0 THEN 300 END, 'missing', '[]'::jsonb)) copy
      WHERE own."fitId" = ${fitId}::uuid AND own."setupId" = ${setupId}::uuid AND setup."slug" LIKE 'setup-%'`;
    await prisma.estimate.updateMany({ where: { fitId, setupId }, data: { isRanked: false } });

    const seen: number[] = [];
    const befores: number[] = [];
    let from: string | undefined;
    do {
      const view = found(await readRankings(registry, { ...wanted, from }));
      expect(view.ranked.length).toBeLessThanOrEqual(100);
      expect(JSON.stringify(view).length).toBeLessThan(220_000);
      expect(view).toMatchObject({ rankedOf: 300, pages: { total: 300 }, notRankedOf: 101 });
      expect(view.notRanked).toHaveLength(100);
      seen.push(...numbers(view.ranked));
      befores.push(view.pages.before);
      from = view.pages.next;
    } while (from !== undefined);
    expect(seen).toEqual(Array.from({ length: 400 }, (_, i) => i + 1).filter((i) => i % 4 > 0));
    expect(befores).toEqual([0, 100, 200]);
  });

  it('go back a page, and begin anew at a cursor of another list', async () => {
    const first = found(await readRankings(registry, wanted));
    const second = found(await readRankings(registry, { ...wanted, from: first.pages.next }));
    const back = found(await readRankings(registry, { ...wanted, from: second.pages.previous }));
    expect(numbers(back.ranked)).toEqual(numbers(first.ranked));
    for (const from of HOSTILE)
      expect(found(await readRankings(registry, { ...wanted, from })).ranked).toEqual(first.ranked);
  });
});

describe('people', () => {
  it('are found by a part of the name or the address, and by role', async () => {
    expect(
      (await readPeople(registry, steward, { text: 'mira' })).rows.map((one) => one.displayName),
    ).toEqual(['Mira Holm']);
    expect((await readPeople(registry, steward, { text: 'P77@people' })).total).toBe(1);
    expect((await readPeople(registry, steward, { role: 'steward' })).rows.every((one) => one.isSelf)).toBe(
      true,
    );
    for (const text of ['\0', "' OR 1=1 --", '__proto__', 'x'.repeat(5000)])
      expect((await readPeople(registry, steward, { text })).rows.length).toBeLessThanOrEqual(50);
  });
});

describe('loops and models', () => {
  it('are found by a part of a name', async () => {
    expect((await readLoops(registry, { text: ' cAUseway ' })).rows).toMatchObject([
      { name: 'North causeway', approvedRuns: await prisma.countedRun.count() },
    ]);
    expect((await readLoops(registry, { text: 'Loop 29' })).total).toBe(
      await prisma.loop.count({ where: { name: { contains: 'Loop 29' } } }),
    );
    expect((await readModels(registry, { text: 'trim 700' })).rows).toMatchObject([{ variant: 'trim 700' }]);
    expect((await readModels(registry, { text: 'tarn works' })).total).toBe(701);
    for (const text of ['%', '_', '\\']) expect((await readModels(registry, { text })).total).toBe(0);
    for (const text of ['\0', '\ud800', "' OR 1=1 --", '%', 'x'.repeat(5000)])
      for (const read of [readLoops, readModels])
        expect((await read(registry, { text })).rows.length).toBeLessThanOrEqual(50);
  });
});

describe('the form of a run', () => {
  const draft = async (loopId: string) => {
    clock.now = new Date(clock.now.getTime() + 60_000);
    const made = await startDraft(registry, tester, {
      creationKey: crypto.randomUUID(),
      form: { loopId, notes: 'Kept.' },
    });
    return { ...made, form: await recordForm(registry, tester, made.runId) };
  };
  const last = () => prisma.loop.findFirstOrThrow({ orderBy: [{ name: 'desc' }, { id: 'desc' }] });
  const before = () => prisma.loop.findFirstOrThrow({ where: { name: 'Loop 99' } });

  it('offers a hundred loops, those of the last drafts among them, and says that there are more', async () => {
    const lists = await fieldLists(registry, { ...reviewer, displayName: 'Ada Quill' });
    expect(lists.loops).toHaveLength(100);
    expect(lists.hasMoreLoops).toBe(true);
    const [chosen, earlier] = [await last(), await before()];
    expect(lists.loops.map(({ id }) => id)).not.toContain(chosen.id);
    await draft(earlier.id);
    const { loops } = (await draft(chosen.id)).form;
    expect(loops).toHaveLength(100);
    expect(loops.map(({ id }) => id)).toEqual(expect.arrayContaining([chosen.id, earlier.id]));
    expect(new Set(loops.map(({ id }) => id)).size).toBe(100);
    const names = loops.map(({ name }) => name);
    expect(names).toEqual([...names].sort((a, b) => a.localeCompare(b, 'en')));
  });

  it('survives what is no loop in a draft', async () => {
    for (const loopId of ['', crypto.randomUUID()])
      expect((await draft(loopId)).form.loops).toHaveLength(100);
  });

  it('takes a loop out of the whole list, found by its name, and keeps the rest', async () => {
    const { runId, draftVersion } = await draft('');
    const view = await loopChoice(registry, tester, runId, { text: 'causeway' });
    expect(view).toMatchObject({ draftVersion, chosenId: '', loops: { total: 1 } });
    const loopId = view.loops.rows[0]?.id ?? '';
    await chooseLoop(registry, tester, { runId, draftVersion, loopId });
    const { form } = await recordForm(registry, tester, runId);
    expect(form).toMatchObject({ loopId, notes: 'Kept.' });
    expect((await loopChoice(registry, tester, runId, {})).chosenId).toBe(loopId);

    const again = { runId, draftVersion: draftVersion + 1, loopId };
    await expect(chooseLoop(registry, tester, { ...again, draftVersion })).rejects.toThrow(Conflict);
    await expect(chooseLoop(registry, reviewer, again)).rejects.toThrow(NotAllowed);
    await expect(loopChoice(registry, reviewer, runId, {})).rejects.toThrow(NotAllowed);
    await expect(chooseLoop(registry, tester, { ...again, loopId: crypto.randomUUID() })).rejects.toThrow(
      NotFound,
    );
    for (const odd of ['__proto__', '\0', ''])
      await expect(chooseLoop(registry, tester, { ...again, loopId: odd })).rejects.toThrow(InvalidInput);
    expect((await recordForm(registry, tester, runId)).form).toEqual(form);
  });
});

describe('the models for a new car', () => {
  it('are a page of them, narrowed by a text, with the chosen one in any case', async () => {
    const all = await modelChoices(registry, tester);
    expect(all).toMatchObject({ total: 701 });
    expect(all.models).toHaveLength(50);
    const chosen = await prisma.vehicleModel.findFirstOrThrow({ orderBy: { slug: 'desc' } });
    const { models } = await modelChoices(registry, tester, { chosenId: chosen.id });
    expect(models.map(({ id }) => id)).toEqual([chosen.id, ...all.models.map(({ id }) => id)]);
    const found = await modelChoices(registry, tester, { text: 'trim 700' });
    expect(found).toMatchObject({ total: 1, models: [{ label: expect.stringContaining('trim 700') }] });
    await expect(modelChoices(registry, undefined)).rejects.toThrow(NotAllowed);
  });
});

describe('the names of a sheet', () => {
  it('are looked up among all loops, capitals and spaces aside, and nothing else is read', async () => {
    const capitals = await prisma.loop.findFirstOrThrow({ where: { name: 'Loop 7' } });
    await prisma.loop.update({ where: { id: capitals.id }, data: { name: 'ΟΔΟΣ' } });
    const cells = ['NORTH\tcause way', 'ΟΔΟΣ', 'loop 299', 'Nowhere', '', '__proto__', '\0'];
    const table = {
      sheetName: null,
      header: { rowNumber: 1, cells: ['Loop'] },
      rows: cells.map((cell, index) => ({ rowNumber: index + 2, cells: [cell] })),
      above: [],
      blankRows: 0,
    };
    const reading = {
      columns: [{ field: 'loopId', column: 0 }],
      words: [],
      given: { loopId: 'ｌｏｏｐ 12' },
    };
    const { loops } = await importNames(registry, tester.accountId, table, reading);
    const meant = ['North causeway', 'ΟΔΟΣ', 'Loop 299', 'Loop 12'];
    expect(new Set(loops.map(({ name }) => name))).toEqual(new Set(meant));
    // Of two of one name both are told, so that the name means neither.
    expect(loops).toHaveLength(await prisma.loop.count({ where: { name: { in: meant } } }));
    await prisma.loop.update({ where: { id: capitals.id }, data: { name: capitals.name } });
  });
});

describe('the actions of the audit log', () => {
  it('are each that occurs, once', async () => {
    const all = await prisma.auditEntry.groupBy({ by: ['action'], orderBy: { action: 'asc' } });
    const { actions } = await readAuditLog(registry, steward, {});
    expect(actions.map(({ value }) => value)).toEqual(all.map(({ action }) => action));
  });
});
