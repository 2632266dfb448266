import { chmod, mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { PrismaPg } from '@prisma/adapter-pg';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { folderBlobStore } from '@/lib/files/folderBlobStore';
import { MOST_COMPARED, readComparison, type SetupDifference } from '@/lib/registry/comparisons/compare';
import { readBestAnswers } from '@/lib/registry/home/liveAnswers';
import { readModel } from '@/lib/registry/models/model';
import { readRankings } from '@/lib/registry/rankings/rankings';
import type { Registry } from '@/lib/registry/registry';
import { PUBLIC_RUN_STATUSES } from '@/lib/run/runStatus';
import { ensureServer, type ServerHandle } from '@/lib/store/server/ensureServer';
import { PrismaClient } from '@/prisma/generated/client';
import { everydayText, specialistLines } from '@/test/helpers/everydayWords';
import { filledWorld } from '@/test/helpers/filledWorld';
import { renderedPage } from '@/test/helpers/pageText';

const parent = await mkdtemp(join(tmpdir(), 'evenloop-words-'));
// The server's user must be able to pass.
await chmod(parent, 0o755);
const folder = join(parent, 'data');

/** A load that takes too long ends with the test. */
const over = new AbortController();
let filling: Promise<void> = Promise.resolve();
let server: ServerHandle;
let prisma: PrismaClient;
let registry: Registry;

beforeAll(async () => {
  filling = filledWorld(folder, over.signal);
  await filling;
  server = await ensureServer(folder, { durable: false });
  prisma = new PrismaClient({ adapter: new PrismaPg(server.connection) });
  registry = {
    db: prisma,
    blobs: folderBlobStore(join(folder, 'blobs')),
    now: () => new Date('2026-11-20T12:00:00Z'),
    world: 'record',
  };
}, 900_000);
afterAll(async () => {
  over.abort();
  await filling.catch(() => undefined);
  await prisma?.$disconnect();
  await server?.release();
  await rm(parent, { recursive: true, force: true });
});

vi.mock('@/app/visitor/registry', () => ({ registry: () => registry }));
vi.mock('@/app/visitor/actor', () => ({ signedIn: async () => undefined }));
vi.mock('@/app/visitor/displayCookie', () => ({ displayOfCookie: async () => undefined }));
vi.mock('next/navigation', async (original) => ({
  ...(await original<typeof import('next/navigation')>()),
  useRouter: () => ({ refresh() {}, push() {} }),
  usePathname: () => '/',
  useSearchParams: () => new URLSearchParams(),
}));

const CLASSES = ['kmh-90', 'kmh-110', 'kmh-130', 'mph-70'];

/** Every pair of a class from both sides: what the setup's page of comparison says of it against each baseline. */
async function pairsOf(classKey: string): Promise<Map<string, SetupDifference>> {
  const all = await prisma.setup.findMany({
    where: { estimates: { some: { fit: { isCurrent: true, group: { cruiseClassKey: classKey } } } } },
  });
  const said = new Map<string, SetupDifference>();
  for (const baseline of all) {
    const others = all.filter(({ id }) => id !== baseline.id);
    // as many as one page compares
    for (let i = 0; i < others.length; i += MOST_COMPARED - 1) {
      const some = others.slice(i, i + MOST_COMPARED - 1);
      const view = await readComparison(registry, {
        classKey,
        world: 'demo',
        setupSlugs: [baseline, ...some].map(({ slug }) => slug),
        wanted: { percent: 2, power: 0.8 },
      });
      expect(view?.differences).toHaveLength(some.length);
      for (const difference of view?.differences ?? []) {
        said.set(`${baseline.slug} ${difference.setup.slug}`, difference);
      }
    }
  }
  expect(said.size).toBe(all.length * (all.length - 1));
  return said;
}

describe('one word for a difference, over every pair of the demo world', { timeout: 600_000 }, () => {
  it.each(CLASSES)('from both sides, in the ranks and on the models’ pages, at %s', async (classKey) => {
    const said = await pairsOf(classKey);
    expect(said.size).toBeGreaterThan(20);
    for (const [pair, one] of said) {
      const other = said.get(pair.split(' ').reverse().join(' '));
      expect(other?.word, pair).toBe(one.word);
      expect(other?.refusal === null, pair).toBe(one.refusal === null);
      if (one.percent === null) continue;
      // B against A and A against B are reciprocal ratios
      expect((1 + one.percent / 100) * (1 + (other?.percent ?? Number.NaN) / 100), pair).toBeCloseTo(1, 10);
      if (one.simultaneous !== null && one.word === 'settled') {
        expect(one.simultaneous[0] > 0 || one.simultaneous[1] < 0, pair).toBe(true);
      }
      if (one.word === 'undecided') {
        expect(one.pointwise !== null && one.pointwise[0] <= 0 && one.pointwise[1] >= 0, pair).toBe(true);
      }
    }

    const rankings = await readRankings(registry, { classKey, world: 'demo' });
    const ranked = rankings?.ranked ?? [];
    for (const setup of ranked) {
      const against = ranked.flatMap(({ slug }) => said.get(`${slug} ${setup.slug}`) ?? []);
      const settled = against.filter(({ word }) => word === 'settled');
      // above it stand those that are settled to be lower, below it those settled to be higher
      const lower = settled.filter(({ percent }) => (percent ?? 0) > 0).length;
      const higher = settled.filter(({ percent }) => (percent ?? 0) < 0).length;
      expect([setup.rankLower, setup.rankUpper], setup.slug).toEqual([1 + lower, ranked.length - higher]);
    }

    for (const { slug } of await prisma.vehicleModel.findMany({ where: { world: 'demo' } })) {
      const model = await readModel(registry, slug, { classKey });
      if (model?.classKey !== classKey) continue;
      for (const change of model.changes) {
        const compared = said.get(`${model.baseline?.slug} ${change.setup.slug}`);
        expect([change.word, change.percent], `${change.setup.slug}`).toEqual([
          compared?.word ?? null,
          compared?.percent ?? null,
        ]);
      }
    }
  });

  it('on the home page: of each model and factor the surest of all classes', async () => {
    const words: readonly unknown[] = ['settled', 'probable', 'leaning', 'undecided'];
    const all: {
      of: string;
      slug: string;
      classKey: string;
      word: string;
      percent: number;
      clarity: number;
    }[] = [];
    for (const { slug } of await prisma.vehicleModel.findMany({ where: { world: 'demo' } })) {
      for (const classKey of CLASSES) {
        const model = await readModel(registry, slug, { classKey });
        if (model?.classKey !== classKey || !model.converged) continue;
        for (const { factor, setup, word, percent, pointwise } of model.changes) {
          if (word === null || percent === null || pointwise === null) continue;
          const [low, high] = pointwise.map((end) => Math.log1p(end / 100)) as [number, number];
          const clarity = Math.abs(Math.log1p(percent / 100)) / (high - low);
          all.push({ of: `${slug} ${factor}`, slug: setup.slug, classKey, word, percent, clarity });
        }
      }
    }
    all.sort((a, b) => words.indexOf(a.word) - words.indexOf(b.word) || b.clarity - a.clarity);
    const best = all.filter(({ of }, index) => all.findIndex((other) => other.of === of) === index);
    expect(best.length).toBeGreaterThan(5);
    const answers = await readBestAnswers(registry, 'demo', 6);
    expect(
      answers.map(({ setup, classKey, word, percent }) => ({ slug: setup.slug, classKey, word, percent })),
    ).toEqual(best.slice(0, 6).map(({ of: _of, clarity: _clarity, ...shown }) => shown));
  });
});

/** Every kind of public page but those on the method and on its intervals, each as often as the demo world varies it. */
const PAGES: Record<string, () => Promise<(() => Promise<string>)[]>> = {
  lists: async () => [
    () => renderedPage(import('@/app/(public)/page')),
    () => renderedPage(import('@/app/(public)/runs/page')),
    () => renderedPage(import('@/app/(public)/models/page')),
    () => renderedPage(import('@/app/(public)/loops/page')),
    () => renderedPage(import('@/app/(public)/protocol/page')),
    () => renderedPage(import('@/app/(public)/safety/page')),
    () => renderedPage(import('@/app/(public)/display/page')),
    () => renderedPage(import('@/app/(account)/sign-in/page')),
    () => renderedPage(import('@/app/(account)/sign-up/page')),
  ],
  rankings: async () =>
    CLASSES.map(
      (key) => () => renderedPage(import('@/app/(public)/rankings/page'), {}, { class: key, world: 'demo' }),
    ),
  comparisons: async () =>
    CLASSES.map((key) => async () => {
      const setups = await prisma.setup.findMany({
        where: { estimates: { some: { fit: { isCurrent: true, group: { cruiseClassKey: key } } } } },
        take: MOST_COMPARED,
      });
      const setup = setups.map(({ slug }) => slug);
      return renderedPage(import('@/app/(public)/compare/page'), {}, { class: key, world: 'demo', setup });
    }),
  setups: async () =>
    (await prisma.setup.findMany({ where: { estimates: { some: {} } } })).map(
      ({ slug }) =>
        () =>
          renderedPage(import('@/app/(public)/setups/[slug]/page'), { slug }),
    ),
  models: async () =>
    (await prisma.vehicleModel.findMany()).map(
      ({ slug }) =>
        () =>
          renderedPage(import('@/app/(public)/models/[slug]/page'), { slug }),
    ),
  loops: async () =>
    (await prisma.loop.findMany()).map(
      ({ slug }) =>
        () =>
          renderedPage(import('@/app/(public)/loops/[slug]/page'), { slug }),
    ),
  testers: async () =>
    (await prisma.account.findMany({ where: { runs: { some: { status: 'approved' } } }, take: 2 })).map(
      ({ slug }) =>
        () =>
          renderedPage(import('@/app/(public)/testers/[slug]/page'), { slug }),
    ),
  runs: async () => {
    const some = await Promise.all(
      PUBLIC_RUN_STATUSES.map((status) =>
        prisma.run.findMany({ where: { status }, orderBy: { number: 'asc' }, take: 12 }),
      ),
    );
    return some.flat().map(
      ({ number }) =>
        () =>
          renderedPage(
            import('@/app/(public)/runs/[number]/page'),
            { number: String(number) },
            number % 6 === 0 ? { check: 'monte-carlo' } : {},
          ),
    );
  },
};

describe('in everyday words', { timeout: 300_000 }, () => {
  it.each(Object.keys(PAGES))('%s', async (kind) => {
    const pages = (await PAGES[kind]?.()) ?? [];
    expect(pages.length).toBeGreaterThan(1);
    const found = new Set<string>();
    for (const page of pages) {
      const markup = await page();
      // a page, and not what stands in place of one
      expect(everydayText(markup).length).toBeGreaterThan(100);
      for (const line of specialistLines(markup)) found.add(line);
    }
    expect([...found]).toEqual([]);
  });
});
