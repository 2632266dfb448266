import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { PrismaPg } from '@prisma/adapter-pg';
import { afterAll, afterEach, describe, expect, it, vi } from 'vitest';
import { folderBlobStore } from '@/lib/files/folderBlobStore';
import type { SignedIn } from '@/lib/registry/accounts/currentActor';
import { countUnreadNotices } from '@/lib/registry/accounts/notices';
import { myNotifications } from '@/lib/registry/accounts/notifications';
import { readPeople } from '@/lib/registry/accounts/people';
import { readTester } from '@/lib/registry/accounts/tester';
import { readAuditLog } from '@/lib/registry/audit/auditLog';
import { setupChoices } from '@/lib/registry/cars/carChoices';
import { myCar, myCars } from '@/lib/registry/cars/myCars';
import { readComparison } from '@/lib/registry/comparisons/compare';
import { fillCountedRuns } from '@/lib/registry/counted/showVersion';
import { readEstimate } from '@/lib/registry/estimates/readEstimate';
import { readFactor, readFactors } from '@/lib/registry/factors/factors';
import { readSharedLevels } from '@/lib/registry/factors/sharedLevels';
import { readSpeedsOfWorld } from '@/lib/registry/factors/speeds';
import { readHome } from '@/lib/registry/home/home';
import { importFaults, importPage, myImports, progressOfImport } from '@/lib/registry/imports/importPage';
import { readLoop } from '@/lib/registry/loops/loop';
import { consensusOfLoop } from '@/lib/registry/loops/loopConsensus';
import { readLoops } from '@/lib/registry/loops/loops';
import { methodPage } from '@/lib/registry/method/methodPage';
import { readAdoptions } from '@/lib/registry/method/methodVersions';
import { chargingFormOf, readCharging } from '@/lib/registry/models/charging';
import { readModel } from '@/lib/registry/models/model';
import { readModels } from '@/lib/registry/models/models';
import { readProtocolPage } from '@/lib/registry/protocol/protocolPage';
import { readRankings } from '@/lib/registry/rankings/rankings';
import type { Registry } from '@/lib/registry/registry';
import { readQueue } from '@/lib/registry/review/queue';
import { nextReview, readReview } from '@/lib/registry/review/review';
import { readRoadLoad } from '@/lib/registry/roadLoads/roadLoad';
import { evidenceFile } from '@/lib/registry/runs/evidenceFile';
import { fieldLists, serverDraft } from '@/lib/registry/runs/fieldCard';
import { myRuns } from '@/lib/registry/runs/myRuns';
import { photosOf, recordForm } from '@/lib/registry/runs/recordForm';
import { readRun } from '@/lib/registry/runs/run';
import { readRunCase } from '@/lib/registry/runs/runCase';
import { draftOfRun } from '@/lib/registry/runs/runDraft';
import { readRunList } from '@/lib/registry/runs/runList';
import { readSetup } from '@/lib/registry/setups/setup';
import { draftTrace } from '@/lib/registry/traces/draftTrace';
import { readRunTrace } from '@/lib/registry/traces/runTrace';
import { traceFile } from '@/lib/registry/traces/traceFile';
import { weatherPage } from '@/lib/registry/weather/fillWeather';
import { Conflict, InvalidInput, NotAllowed, NotFound } from '@/lib/run/errors';
import { FACTORS } from '@/lib/run/factors';
import { worldKey } from '@/lib/run/world';
import { PrismaClient } from '@/prisma/generated/client';
import { bareDatabase } from '@/test/helpers/database';
import { copyOldBlobs, OLD_PEOPLE, restoreOldRegistry } from '@/test/helpers/oldRegistry';
import { signedInAs } from '@/test/helpers/smallRegistry';

// Hundreds of reads a test: on a busy machine more than the usual minute.
vi.setConfig({ testTimeout: 300_000 });

const database = await bareDatabase();
const applied = await restoreOldRegistry(database.connection);
const prisma = new PrismaClient({ adapter: new PrismaPg(database.connection) });
const blobs = mkdtempSync(join(tmpdir(), 'evenloop-old-blobs-'));
await copyOldBlobs(blobs);
const registry: Registry = {
  db: prisma,
  blobs: folderBlobStore(blobs),
  now: () => new Date('2026-12-01T12:00:00Z'),
  world: 'record',
};
// As the first start of a later release does.
await fillCountedRuns(registry);
afterAll(async () => {
  await prisma.$disconnect();
  await database.drop();
  rmSync(blobs, { recursive: true, force: true });
});

type Asker = readonly [who: string, actor: SignedIn | undefined];

async function signedIn(where: { email: string } | { id: string }): Promise<SignedIn> {
  const { id } = await prisma.account.findUniqueOrThrow({ where });
  return signedInAs(registry, id);
}

const askers: Asker[] = [['nobody', undefined]];
for (const [who, email] of Object.entries(OLD_PEOPLE)) askers.push([who, await signedIn({ email })]);
for (const demo of ['anouk', 'mateo', 'petra'])
  askers.push([demo, await signedIn({ email: `${demo}@averil.example` })]);

const [runs, setups, models, loops, cars, accounts, imports, photos, protocols, classes] = await Promise.all([
  prisma.run.findMany({
    orderBy: { number: 'asc' },
    select: { id: true, number: true, approvedRevision: true, status: true, draft: true, testerId: true },
  }),
  prisma.setup.findMany({ select: { slug: true, model: { select: { world: true } } } }),
  prisma.vehicleModel.findMany({ select: { id: true, slug: true, world: true } }),
  prisma.loop.findMany({ select: { slug: true } }),
  prisma.car.findMany({ select: { id: true } }),
  prisma.account.findMany({ select: { id: true, slug: true } }),
  prisma.importBatch.findMany({ select: { id: true } }),
  prisma.evidenceFile.findMany({ distinct: ['sha256'], select: { sha256: true, thumbSha256: true } }),
  prisma.protocolVersion.findMany({ select: { label: true } }),
  prisma.cruiseClass.findMany({ where: { runs: { some: {} } }, select: { key: true } }),
]);
// One that nobody has driven is like any other such.
classes.push(
  await prisma.cruiseClass.findFirstOrThrow({ where: { runs: { none: {} } }, select: { key: true } }),
);

/** In which classes each setup and model was driven, by slug: in any other their pages show what they do without one. */
const classesOf = new Map<string, Set<string>>();
for (const { setup, cruiseClassKey } of await prisma.run.findMany({
  distinct: ['setupId', 'cruiseClassKey'],
  select: { cruiseClassKey: true, setup: { select: { slug: true, model: { select: { slug: true } } } } },
})) {
  if (setup === null || cruiseClassKey === null) continue;
  for (const slug of [setup.slug, setup.model.slug])
    classesOf.set(slug, (classesOf.get(slug) ?? new Set()).add(cruiseClassKey));
}

/**
 * Who reads what belongs to a run: whoever has it, who sees it from inside, nobody, and one of all in turn. What the
 * others are shown or refused, one of these four is too.
 */
const byRun = new Map<string, Asker[]>();
for (const [index, { id, testerId }] of runs.entries()) {
  const others = [askers[0], askers.find(([who]) => who === 'steward'), askers[index % askers.length]];
  const all: Asker[] = [
    ['its tester', await signedIn({ id: testerId })],
    ...others.filter((one) => one !== undefined),
  ];
  byRun.set(
    id,
    all.filter(([, actor], at) => all.findIndex(([, one]) => one?.accountId === actor?.accountId) === at),
  );
}
const askersOf = (run: { id: string }): readonly Asker[] => byRun.get(run.id) ?? [];

/** What a page answers with a sentence of its own; everything else is a fault. */
const ANSWERS = [NotAllowed, NotFound, Conflict, InvalidInput];

/** What broke in the test at hand: all of it is told, not only the first. */
const broken = new Set<string>();

/** Reads as each of the askers; a fault is told with who asked and for what. */
async function readAs(
  what: string,
  read: (actor: SignedIn | undefined) => Promise<unknown>,
  who: readonly Asker[] = askers,
): Promise<void> {
  for (const [name, actor] of who) {
    try {
      await read(actor);
    } catch (error) {
      if (!ANSWERS.some((answer) => error instanceof answer))
        broken.add(`${what}, read by ${name}: ${told(error)}`);
    }
    for (const key of Object.keys(Object.prototype)) {
      broken.add(`${what}, read by ${name}: every object now has a “${key}”`);
      Reflect.deleteProperty(Object.prototype, key);
    }
  }
}

function told(error: unknown): string {
  if (!(error instanceof Error)) return String(error);
  const [first = '', ...lines] = (error.stack ?? error.message).split('\n');
  return [first, ...lines.filter((line) => /\/(lib|app)\//.test(line)).slice(0, 2)].join(' ');
}

const anybody: readonly Asker[] = [['nobody', undefined]];

afterEach(() => {
  const all = [...broken];
  broken.clear();
  expect(all).toEqual([]);
});

describe('a registry that version 0.1.0 left', () => {
  it('holds what its notes say, after all later migrations', async () => {
    const known = await prisma.$queryRaw<
      { name: string }[]
    >`SELECT "name" FROM schema_migration ORDER BY "name"`;
    expect(known).toHaveLength(7 + applied.length);
    const states = new Map<string, number>();
    for (const { status } of runs) states.set(status, (states.get(status) ?? 0) + 1);
    expect(runs).toHaveLength(73);
    expect([...states.keys()].toSorted()).toEqual([
      'approved',
      'changesAsked',
      'draft',
      'rejected',
      'retracted',
      'submitted',
      'superseded',
    ]);
    const poisoned = runs.filter(({ draft }) => JSON.stringify(draft).includes('__proto__'));
    expect(poisoned.length).toBeGreaterThanOrEqual(3);
    // Later migrations may ask for more work; what was left stays what it was.
    const jobs = await prisma.job.findMany({ where: { state: { not: 'done' } } });
    const left = (state: string) =>
      jobs.filter((job) => job.state === state).map(({ kind, key }) => `${kind} ${key}`);
    expect(left('failed')).toEqual(Array.from({ length: 3 }, () => 'refit demo/kmh-90'));
    expect(left('running')).toEqual(expect.arrayContaining(['refit record/kmh-90']));
    expect(left('running')).toHaveLength(2);
    expect(left('queued')).toEqual(expect.arrayContaining(['refit record/kmh-110', 'tidyUp __proto__']));
    expect(await prisma.fit.count({ where: { isCurrent: true, converged: false } })).toBe(1);
    expect(await prisma.methodVersion.count({ where: { isCurrent: true } })).toBe(1);
  });
});

describe('every read of every page over it answers', () => {
  it('lists and documents', async () => {
    await readAs('home', (actor) => readHome(registry, actor));
    await readAs('loops', () => readLoops(registry), anybody);
    await readAs('models', () => readModels(registry), anybody);
    await readAs('method', () => methodPage(registry), anybody);
    await readAs('protocol', () => readProtocolPage(registry), anybody);
    for (const label of [...protocols.map((one) => one.label), '__proto__', 'constructor'])
      await readAs(`protocol ${label}`, () => readProtocolPage(registry, label), anybody);
    for (const from of [undefined, (await readRunList(registry, {})).next, 'nowhere', '__proto__'])
      await readAs(`runs from ${from}`, () => readRunList(registry, { from }), anybody);
    for (const key of ['__proto__', ...classes.map((one) => one.key)])
      await readAs(`runs of ${key}`, () => readRunList(registry, { classKey: key }), anybody);
  });

  it('rankings and comparisons of every class and world', async () => {
    for (const { key } of classes) {
      for (const world of ['record', 'demo']) {
        const query = { classKey: key, world };
        await readAs(
          `ranking ${world}/${key}`,
          (actor) => readRankings(registry, query, actor),
          askers.slice(0, 6),
        );
        await readAs(`factors ${world}/${key}`, () => readFactors(registry, query), anybody);
        for (const factor of [...FACTORS.map((each) => each.key), '__proto__'])
          await readAs(`${factor} ${world}/${key}`, () => readFactor(registry, factor, query), anybody);
        for (const ofWorld of ['record', 'demo']) {
          const setupSlugs = setups.filter(({ model }) => model.world === ofWorld).map(({ slug }) => slug);
          const wanted = { percent: 2, power: 0.8 };
          const compare = () =>
            readComparison(registry, { ...query, setupSlugs: setupSlugs.slice(0, 6), wanted });
          await readAs(`comparison ${world}/${key}`, compare, anybody);
        }
      }
    }
  });

  it('cruise speed and shared levels of every world', async () => {
    for (const world of ['record', 'demo', '__proto__']) {
      await readAs(`cruise speed of ${world}`, () => readSpeedsOfWorld(registry, world), anybody);
      for (const { key: factor } of FACTORS)
        await readAs(`levels of ${factor}`, (actor) => readSharedLevels(registry, actor, { world, factor }));
    }
  });

  it('setups, models, loops and testers', async () => {
    for (const { slug } of setups) {
      await readAs(`setup ${slug}`, () => readSetup(registry, slug), anybody);
      await readAs(
        `estimate of ${slug}`,
        () => readEstimate(registry, { form: {}, setupSlug: slug }),
        anybody,
      );
      for (const key of classesOf.get(slug) ?? ['__proto__'])
        await readAs(`setup ${slug} at ${key}`, () => readSetup(registry, slug, { classKey: key }), anybody);
    }
    for (const model of models) {
      await readAs(`model ${model.slug}`, () => readModel(registry, model.slug), anybody);
      for (const key of classesOf.get(model.slug) ?? ['__proto__'])
        await readAs(
          `model ${model.slug} at ${key}`,
          () => readModel(registry, model.slug, { classKey: key }),
          anybody,
        );
      await readAs(`charging of ${model.slug}`, (actor) => readCharging(registry, actor, model.slug));
      await readAs(`form of charging of ${model.slug}`, (actor) =>
        chargingFormOf(registry, actor, model.slug),
      );
      await readAs(
        `road load ${model.slug}`,
        () => readRoadLoad(registry, { ...model, world: worldKey(model.world) }),
        anybody,
      );
    }
    for (const { slug } of loops) {
      await readAs(`loop ${slug}`, () => readLoop(registry, slug), anybody);
      await readAs(`consensus ${slug}`, () => consensusOfLoop(registry, slug), anybody);
    }
    for (const { slug } of accounts)
      await readAs(`tester ${slug}`, () => readTester(registry, slug), anybody);
  });

  it('runs, their cases and recordings', async () => {
    for (const run of runs) {
      const { id, number, approvedRevision } = run;
      const who = askersOf(run);
      await readAs(
        `run ${number}`,
        (actor) => readRun(registry, actor, number, { withSimulation: false }),
        who,
      );
      await readAs(`case of run ${number}`, (actor) => readRunCase(registry, actor, number), who);
      await readAs(`draft of run ${number}`, (actor) => draftOfRun(registry, actor, number), who);
      const revisionNumber = approvedRevision ?? 1;
      await readAs(
        `trace of run ${number}`,
        (actor) => readRunTrace(registry, actor, { runId: id, revisionNumber }),
        who,
      );
      await readAs(`recording of run ${number}`, (actor) => traceFile(registry, actor, id), who);
    }
    const simulated = runs.filter(({ approvedRevision }) => approvedRevision !== null);
    for (const { number } of simulated.slice(0, 2))
      await readAs(
        `simulation of run ${number}`,
        () => readRun(registry, undefined, number, { withSimulation: true }),
        anybody,
      );
  });

  it('drafts', async () => {
    for (const run of runs) {
      const { id, number } = run;
      const who = askersOf(run);
      await readAs(`form of run ${number}`, (actor) => recordForm(registry, actor, id), who);
      await readAs(`phone’s copy of run ${number}`, (actor) => serverDraft(registry, actor, id), who);
      await readAs(`photos of run ${number}`, (actor) => photosOf(registry, actor, id), who);
      await readAs(`draft’s recording, run ${number}`, (actor) => draftTrace(registry, actor, id), who);
      await readAs(`weather of run ${number}`, (actor) => weatherPage(registry, actor, id), who);
    }
  });

  it('what belongs to somebody', async () => {
    await readAs('my runs', (actor) => myRuns(registry, actor));
    await readAs('my cars', (actor) => myCars(registry, actor));
    await readAs('my imports', (actor) => myImports(registry, actor));
    await readAs('my notices', (actor) => myNotifications(registry, actor));
    await readAs('unread notices', async (actor) => actor && countUnreadNotices(registry, actor));
    await readAs('lists of the field card', (actor) => fieldLists(registry, actor));
    for (const { id } of cars) await readAs(`car ${id}`, (actor) => myCar(registry, actor, id));
    for (const { id, slug } of models)
      await readAs(`choices of ${slug}`, (actor) => setupChoices(registry, actor, id));
    for (const { id } of imports) {
      await readAs(`import ${id}`, (actor) => importPage(registry, actor, id, {}));
      await readAs(`refused rows of import ${id}`, (actor) =>
        importPage(registry, actor, id, { outcome: 'refused' }),
      );
      await readAs(`progress of import ${id}`, (actor) => progressOfImport(registry, actor, id));
      await readAs(`faults of import ${id}`, (actor) => importFaults(registry, actor, id));
    }
    for (const digest of photos.flatMap(({ sha256, thumbSha256 }) => [sha256, thumbSha256]))
      await readAs(`photo ${digest}`, (actor) => evidenceFile(registry, actor, digest));
  });

  it('reviewers’ and stewards’', async () => {
    await readAs('queue', (actor) => readQueue(registry, actor, {}));
    const reviewers = askers.filter(([who]) => ['reviewer', 'steward', 'mateo', 'petra'].includes(who));
    for (const [index, run] of runs.entries()) {
      const { id, number } = run;
      const inTurn = reviewers.filter((_, at) => at === index % reviewers.length);
      const who = [...inTurn, ...askersOf(run).filter(([, one]) => one?.accountId === run.testerId)];
      await readAs(`review of run ${number}`, (actor) => readReview(registry, actor, number), who);
      await readAs(`review after run ${number}`, (actor) => nextReview(registry, actor, id), inTurn);
    }
    await readAs('people', (actor) => readPeople(registry, actor));
    await readAs('method versions', (actor) => readAdoptions(registry, actor));
    for (const from of [undefined, 'nowhere', '__proto__'])
      await readAs(`log from ${from}`, (actor) => readAuditLog(registry, actor, { from }));
    await readAs('log of an odd action', (actor) => readAuditLog(registry, actor, { action: 'constructor' }));
  });
});
