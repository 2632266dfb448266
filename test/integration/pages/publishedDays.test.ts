import { generateKeyPairSync } from 'node:crypto';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { answer } from '@/app/api/v1/answer';
import { atomXml } from '@/app/feeds/atom';
import { feedOf } from '@/app/feeds/feedOf';
import { readFigure } from '@/app/figures/publicFigures';
import { DEFAULT_LICENCE } from '@/lib/openData/licences';
import { CONTRASTS, ESTIMATES } from '@/lib/openData/tables/fitTables';
import { RESULTS, RUNS } from '@/lib/openData/tables/runTables';
import { choosePublishedDays, readPublishedDays } from '@/lib/registry/accounts/publishedDays';
import { addCar } from '@/lib/registry/cars/addCar';
import { checkCounted } from '@/lib/registry/counted/checkCounted';
import { methodInEffect } from '@/lib/registry/method/methodInEffect';
import { verifySnapshot } from '@/lib/registry/openData/verifySnapshot';
import { writeSnapshot } from '@/lib/registry/openData/writeSnapshot';
import { runJobsNow } from '@/lib/registry/runJobs';
import { readRunList } from '@/lib/registry/runs/runList';
import { planStudy } from '@/lib/registry/studies/planStudy';
import { InvalidInput, NotAllowed } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
import { RECORD } from '@/lib/run/world';
import { PLAN_DEFAULTS, setupFieldName } from '@/lib/study/planForm';
import { freshDatabase } from '@/test/helpers/database';
import { renderedPage, textOfMarkup } from '@/test/helpers/pageText';
import { approve, loopOf, person, registryOn, submitted, vehicleOf } from '@/test/helpers/smallRegistry';
import { membersOf, rowsOf } from '@/test/helpers/snapshotFiles';
import { stillNavigation } from '@/test/helpers/stillNavigation';

/** What readers see of the days of a tester who publishes months, on every page, in every file, and what others see. */
const { prisma, connection } = await freshDatabase();
const { registry, clock, remove } = await registryOn(prisma);
const folder = mkdtempSync(join(tmpdir(), 'evenloop-days-'));
const { privateKey } = generateKeyPairSync('ed25519');
afterAll(() => {
  remove();
  rmSync(folder, { recursive: true, force: true });
});

let visitor: (Actor & { displayName: string }) | undefined;
vi.mock('@/app/visitor/registry', () => ({ registry: () => registry }));
vi.mock('@/app/visitor/actor', () => ({
  signedIn: async () => visitor,
  requireSignedIn: async () => visitor,
}));
vi.mock('@/app/visitor/displayCookie', () => ({ displayOfCookie: async () => undefined }));
vi.mock('next/navigation', async (original) => stillNavigation(await original()));

let mira: Actor;
let ivo: Actor;
let ada: Actor;
let study: { slug: string };
let slugs: { base: string; low: string; model: string; loop: string; mira: string };
/** Mira's runs. */
const numbers: number[] = [];

/** The days and hours of Mira's drives, in every way that they are written; her loop is an hour ahead of UTC. */
const DRIVEN = [
  /2026-?05-?(14|23)/,
  /\b(14|23)[ \u00A0]May/,
  /May[ \u00A0](14|23)\b/,
  /\b(09|08):17/,
  /\b(11|10):43/,
  /\b14\d{4}Z/,
];
/** Of sending in and decisions, which stand on the run's own page and nowhere else. */
const DECIDED = [/2026-05-(15|16|24|25)/, /\b(15|16|24|25)[ \u00A0]May/, /\b(06|07):21/, /\b(10|11):11/];

async function drive(by: Actor, carId: string, setupId: string, at: string, energy: string) {
  const day = Date.parse(`${at.slice(0, 10)}T00:00:00Z`);
  clock.now = new Date(day + 30.35 * 3_600_000);
  const run = await submitted(registry, by, {
    carId,
    setupId,
    loopId: (await prisma.loop.findFirstOrThrow()).id,
    startedAtLocal: at,
    tripEnergy: energy,
    tripEfficiency: (66.8 / Number(energy)).toFixed(2),
    // a run of May is reported on by its day and time
    stationReport: `${at.slice(8, 10)}0850Z 24009KT 12/06 Q1016`,
  });
  await prisma.evidenceFile.updateMany({
    where: { runId: run.runId },
    data: { capturedAt: new Date(`${at.slice(0, 10)}T09:17:00Z`) },
  });
  clock.now = new Date(day + 58.19 * 3_600_000);
  await approve(registry, ada, run);
  return run.runNumber;
}

beforeAll(async () => {
  clock.now = new Date('2026-05-01T12:00:00Z');
  mira = await person(registry, 'Mira Holm');
  ivo = await person(registry, 'Ivo Brandt');
  ada = await person(registry, 'Ada Quill', 'reviewer');
  await person(registry, 'Noor Vale', 'steward');
  const vehicle = await vehicleOf(registry, mira);
  const { baselineId, lowId, modelId } = vehicle;
  const loopId = await loopOf(registry, mira);
  const other = await addCar(registry, ivo, { modelId, name: 'Grey one' });
  study = await planStudy(registry, mira, {
    carId: vehicle.carId,
    loopId,
    cruiseClassKey: 'mph-70',
    question: 'Does the low ride height use less?',
    form: { ...PLAN_DEFAULTS, runsADay: '2', days: '2', baselineId, [setupFieldName(lowId)]: 'yes' },
    seed: 3,
  });
  await drive(ivo, other.carId, baselineId, '2026-05-05T12:00', '33.4');
  await drive(ivo, other.carId, lowId, '2026-05-05T15:00', '32.8');
  for (const [at, setupId, energy] of [
    ['2026-05-14T09:17', baselineId, '32.9'],
    ['2026-05-14T11:43', lowId, '32.3'],
    ['2026-05-23T09:17', lowId, '32.2'],
    ['2026-05-23T11:43', baselineId, '33.0'],
  ] as const)
    numbers.push(await drive(mira, vehicle.carId, setupId, at, energy));
  await drive(ivo, other.carId, lowId, '2026-05-27T12:00', '32.7');
  clock.now = new Date('2026-06-02T12:00:00Z');
  await runJobsNow(registry);
  const setups = await prisma.setup.findMany({ where: { id: { in: [baselineId, lowId] } } });
  const slugOf = (id: string) => setups.find((setup) => setup.id === id)?.slug ?? '';
  slugs = {
    base: slugOf(baselineId),
    low: slugOf(lowId),
    model: (await prisma.vehicleModel.findFirstOrThrow()).slug,
    loop: (await prisma.loop.findFirstOrThrow()).slug,
    mira: (await prisma.account.findUniqueOrThrow({ where: { id: mira.accountId } })).slug,
  };
}, 120_000);

/** Every page, feed, figure and file in which one of Mira's runs stands, by its address. */
async function published(): Promise<Map<string, string>> {
  visitor = undefined;
  const found = new Map<string, string>();
  const setup = [slugs.base, slugs.low];
  const pages: [string, Parameters<typeof renderedPage>][] = [
    ['/', [import('@/app/(public)/page')]],
    ['/runs', [import('@/app/(public)/runs/page')]],
    ['/rankings', [import('@/app/(public)/rankings/page')]],
    ['/compare', [import('@/app/(public)/compare/page'), {}, { setup }]],
    ['/compare/publish', [import('@/app/(public)/compare/publish/page'), {}, { setup }]],
    ['/setups', [import('@/app/(public)/setups/[slug]/page'), { slug: slugs.low }]],
    ['/models', [import('@/app/(public)/models/[slug]/page'), { slug: slugs.model }]],
    ['/loops', [import('@/app/(public)/loops/[slug]/page'), { slug: slugs.loop }]],
    ['/testers', [import('@/app/(public)/testers/[slug]/page'), { slug: slugs.mira }]],
    ['/studies', [import('@/app/(public)/studies/page')]],
    ['/studies/one', [import('@/app/(public)/studies/[slug]/page'), { slug: study.slug }]],
    ...numbers.map((number): [string, Parameters<typeof renderedPage>] => [
      `/runs/${number}`,
      [import('@/app/(public)/runs/[number]/page'), { number: String(number) }],
    ]),
  ];
  for (const [path, page] of pages) found.set(path, await renderedPage(...page));
  for (const path of [
    ['all.atom'],
    ['setups', `${slugs.low}.atom`],
    ['loops', `${slugs.loop}.atom`],
    ['testers', `${slugs.mira}.atom`],
    ['studies', `${study.slug}.atom`],
  ]) {
    const feed = await feedOf(registry, path);
    if (feed === undefined) throw new Error(`no feed at ${path.join('/')}`);
    found.set(`/feeds/${path.join('/')}`, atomXml(feed));
  }
  for (const [kind, key] of [
    ['setup-runs', slugs.low],
    ['setup-spread', slugs.low],
    ['pairs', 'mph-70'],
    ['study', study.slug],
    ['adjustment', String(numbers[0])],
    ['budget', String(numbers[0])],
  ] as const) {
    const figure = await readFigure(registry, kind, key, { setup: kind === 'study' ? slugs.low : setup });
    if (figure === undefined) throw new Error(`no figure ${kind} of ${key}`);
    found.set(`/figures/${kind}`, JSON.stringify(figure));
  }
  for (const path of [
    'runs',
    ...numbers.map((number) => `runs/${number}`),
    `setups/${slugs.low}`,
    `loops/${slugs.loop}`,
    `studies/${study.slug}`,
  ])
    for (const type of ['application/json', 'text/csv']) {
      const request = new Request(`https://registry.example/api/v1/${path}`, { headers: { accept: type } });
      const got = await answer(registry, request, path.split('/'), () => ({ left: 10, resetS: 60 }));
      found.set(`/api/v1/${path} ${type}`, await got.text());
    }
  const params = Promise.resolve({ slug: study.slug });
  const asked = new Request('https://registry.example/');
  const csv = await import('@/app/(public)/studies/[slug]/numbers.csv/route');
  found.set('numbers.csv', await (await csv.GET(asked, { params })).text());
  const embed = await import('@/app/embed/studies/[slug]/route');
  found.set('embed', await (await embed.GET(asked, { params })).text());
  const cases = await import('@/app/(public)/runs/[number]/case.json/route');
  const of = { params: Promise.resolve({ number: String(numbers[0]) }) };
  found.set('case.json', await (await cases.GET(asked, of)).text());
  for (const [name, bytes] of await snapshot()) found.set(`snapshot ${name}`, bytes.toString('utf8'));
  return found;
}

let snapshots = 0;
async function snapshot() {
  snapshots += 1;
  const file = join(folder, `${snapshots}.zip`);
  const method = await methodInEffect(prisma, RECORD);
  await writeSnapshot({ connection, world: RECORD, method, licence: DEFAULT_LICENCE, privateKey }, file);
  expect((await verifySnapshot(file, { mayBeUnsigned: true })).differences).toEqual([]);
  return membersOf(file);
}

/** Where any of these stands. What an address or a cursor holds is read as well. */
function said(in_: ReadonlyMap<string, string>, patterns: readonly RegExp[]): string[] {
  return [...in_].flatMap(([where, text]) => {
    const decoded = [...text.matchAll(/[?&;](?:amp;)?(?:from|log)=([\w-]{8,})/g)].map(([, cursor = '']) =>
      Buffer.from(cursor, 'base64url').toString('utf8'),
    );
    const whole = [text, ...decoded].join('\n').replaceAll('&nbsp;', ' ');
    return patterns.flatMap((pattern) => {
      const [at] = pattern.exec(whole) ?? [];
      return at === undefined ? [] : [`${where}: ${at}`];
    });
  });
}

/** Names of rows that hold the millisecond of their making. */
async function idsOfMira(): Promise<RegExp[]> {
  const runs = await prisma.run.findMany({
    where: { testerId: mira.accountId },
    select: {
      id: true,
      sessionId: true,
      evidence: { select: { id: true } },
      revisions: { select: { id: true } },
    },
  });
  return runs
    .flatMap(({ id, sessionId, evidence, revisions }) => [
      id,
      sessionId ?? '',
      ...[...evidence, ...revisions].map((row) => row.id),
    ])
    .map((id) => new RegExp(id));
}

async function numbersOf() {
  const members = await snapshot();
  const rows = [RESULTS, ESTIMATES, CONTRASTS].map((table) =>
    rowsOf(members, table).map(({ shared_parts: _, ...row }) => row),
  );
  const request = new Request(
    `https://registry.example/api/v1/comparisons?setups=${slugs.base},${slugs.low}&class=mph-70`,
  );
  const got = await answer(registry, request, ['comparisons'], () => ({ left: 10, resetS: 60 }));
  const { asOf: _asOf, fittedAt: _fittedAt, ...compared } = (await got.json()) as Record<string, unknown>;
  return { rows, compared };
}

const order = async () =>
  (await readRunList(registry, {})).rows.map(({ number, localDate }) => [number, localDate]);

describe('the days of a tester’s runs', { timeout: 300_000 }, () => {
  it('are published as driven where nothing else was chosen', async () => {
    const before = await published();
    for (const where of [
      '/runs',
      '/setups',
      '/loops',
      '/testers',
      '/studies/one',
      '/feeds/all.atom',
      'numbers.csv',
    ])
      expect(
        said(before, DRIVEN).map((one) => one.split(':')[0]),
        where,
      ).toContain(where);
    expect(await readPublishedDays(registry, mira)).toBe('day');
  });

  it('are chosen by their tester alone, and nothing else is a choice', async () => {
    await expect(choosePublishedDays(registry, undefined, { publishedDays: 'month' })).rejects.toBeInstanceOf(
      NotAllowed,
    );
    await expect(choosePublishedDays(registry, mira, { publishedDays: 'year' })).rejects.toBeInstanceOf(
      InvalidInput,
    );
    await expect(choosePublishedDays(registry, mira, {})).rejects.toBeInstanceOf(InvalidInput);
    expect(await prisma.run.count({ where: { monthOnly: true } })).toBe(0);
  });

  it('stand nowhere once months are chosen, in no way of writing them, and no number is another one', async () => {
    const [numbersBefore, orderBefore] = [await numbersOf(), await order()];
    clock.now = new Date('2026-06-03T12:00:00Z');
    await choosePublishedDays(registry, mira, { publishedDays: 'month' });
    await runJobsNow(registry);
    expect(await numbersOf()).toEqual(numbersBefore);

    const now = await published();
    expect(said(now, DRIVEN)).toEqual([]);
    const ownPages = new Map([...now].filter(([where]) => numbers.some((one) => where === `/runs/${one}`)));
    expect(said(ownPages, DECIDED)).toEqual([]);
    expect(said(now, await idsOfMira())).toEqual([]);
    expect(textOfMarkup(now.get(`/runs/${numbers[0]}`) ?? '')).toContain('May 2026');
    expect(JSON.parse(now.get(`/api/v1/runs/${numbers[0]} application/json`) ?? '')).toMatchObject({
      day: '2026-05',
      startedAt: null,
    });
    // others' days stay as they were
    expect(now.get('/runs')).toContain('2026-05-27');

    // within the month by their numbers, behind the days of others
    expect((await order()).map(([number]) => number)).toEqual([
      orderBefore[0]?.[0],
      ...orderBefore
        .map(([number]) => number)
        .filter((one) => !numbers.includes(Number(one)))
        .slice(1),
      ...numbers.toReversed(),
    ]);
    for (const { differences } of await checkCounted(registry)) expect(differences).toEqual([]);
    const entry = await prisma.auditEntry.findFirstOrThrow({ where: { action: 'account.publishedDays' } });
    expect(entry.details).toEqual({ choice: 'month', runs: 4 });
  });

  it('stand in a snapshot as if the run had been driven as its month began, and it says so', async () => {
    const rows = rowsOf(await snapshot(), RUNS);
    for (const row of rows) {
      const isMiras = numbers.includes(Number(row.run));
      expect(row.month_only).toBe(isMiras);
      if (!isMiras) continue;
      expect(row).toMatchObject({
        local_date: '2026-05-01',
        started_at: '2026-04-30T23:00:00.000Z',
        submitted_at: '2026-05-01T00:00:00.000Z',
        decided_at: '2026-05-01T00:00:00.000Z',
      });
    }
    expect(new Set(rows.filter((row) => row.month_only).map((row) => row.session_id)).size).toBe(2);
  });

  it('are told to their tester and to a reviewer, and to no other tester', async () => {
    const pageFor = async (actor: Actor, displayName: string) => {
      visitor = { ...actor, displayName };
      const page = import('@/app/(public)/runs/[number]/page');
      return new Map([['page', await renderedPage(page, { number: String(numbers[0]) })]]);
    };
    for (const [actor, name] of [
      [mira, 'Mira Holm'],
      [ada, 'Ada Quill'],
    ] as const) {
      const text = await pageFor(actor, name);
      expect(said(text, [/14\u00A0May\u00A02026/, /09:17/, /15\u00A0May\u00A02026/])).toHaveLength(3);
    }
    expect(said(await pageFor(ivo, 'Ivo Brandt'), [...DRIVEN, ...DECIDED])).toEqual([]);
    visitor = undefined;
  });

  it('are months for a run that is sent in afterwards, and days again by another choice', async () => {
    const [car, setup] = await Promise.all([
      prisma.car.findFirstOrThrow({ where: { ownerId: mira.accountId } }),
      prisma.setup.findFirstOrThrow({ where: { slug: slugs.low } }),
    ]);
    const number = await drive(mira, car.id, setup.id, '2026-06-09T09:17', '32.4');
    const rows = async () => [
      await prisma.run.findFirstOrThrow({
        where: { number },
        select: { publishedDay: true, monthOnly: true, localDate: true },
      }),
      await prisma.countedRun.findFirstOrThrow({ where: { number }, select: { day: true, monthOnly: true } }),
    ];
    const [first, day] = ['2026-06-01', '2026-06-09'].map((text) => new Date(text));
    expect(await rows()).toEqual([
      { publishedDay: first, monthOnly: true, localDate: day },
      { day: first, monthOnly: true },
    ]);
    clock.now = new Date('2026-06-15T12:00:00Z');
    await choosePublishedDays(registry, mira, { publishedDays: 'day' });
    await choosePublishedDays(registry, mira, { publishedDays: 'day' });
    expect(await rows()).toEqual([
      { publishedDay: day, monthOnly: false, localDate: day },
      { day, monthOnly: false },
    ]);
    expect(await prisma.auditEntry.count({ where: { action: 'account.publishedDays' } })).toBe(2);
    for (const { differences } of await checkCounted(registry)) expect(differences).toEqual([]);
  });
});
