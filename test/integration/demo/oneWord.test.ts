import { chmod, mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { PrismaPg } from '@prisma/adapter-pg';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { folderBlobStore } from '@/lib/files/folderBlobStore';
import { MOST_COMPARED, readComparison, type SetupDifference } from '@/lib/registry/comparisons/compare';
import { readFactor } from '@/lib/registry/factors/factors';
import { readSpeedsOfWorld } from '@/lib/registry/factors/speeds';
import { readBestAnswers } from '@/lib/registry/home/liveAnswers';
import { readModel } from '@/lib/registry/models/model';
import { readRankings } from '@/lib/registry/rankings/rankings';
import type { Registry } from '@/lib/registry/registry';
import { FACTORS } from '@/lib/run/factors';
import { ensureServer, type ServerHandle } from '@/lib/store/server/ensureServer';
import { DEMO_SEED } from '@/prisma/demo/loadDemoWorld';
import { generateDemoWorld } from '@/prisma/demo/world/generateDemoWorld';
import { PrismaClient } from '@/prisma/generated/client';
import { everydayText, specialistLines } from '@/test/helpers/everydayWords';
import { filledWorld } from '@/test/helpers/filledWorld';
import { DEMO_CLASSES, KINDS_OF_PAGE, publicPages } from '@/test/helpers/publicPages';
import { stillNavigation } from '@/test/helpers/stillNavigation';
import { itEstimates } from './estimates';
import { itIsReadByPrograms } from './programs';
import { itSnapshots } from './snapshots';

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

/** The world that was loaded, with the truth behind it. */
const world = generateDemoWorld({ seed: DEMO_SEED });

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
vi.mock('next/navigation', async (original) => stillNavigation(await original()));

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
  it.each(DEMO_CLASSES)('from both sides, in the ranks and on the models’ pages, at %s', async (classKey) => {
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
    // what rests on one tester stands in order without a place, and the others are counted without it
    const ranked = (rankings?.ranked ?? []).filter(({ held }) => held.restsOn.length === 0);
    expect(ranked).toHaveLength(rankings?.rankedOf ?? 0);
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

    for (const { key } of FACTORS) {
      const factor = await readFactor(registry, key, { classKey, world: 'demo' });
      expect(factor?.isDue).toBe(false);
      for (const model of (factor?.effects ?? []).flatMap(({ models }) => models)) {
        const compared = said.get(`${model.baseline.slug} ${model.setup.slug}`);
        const numbers = ({ word, percent, pointwise, simultaneous, refusal, restsOnOne }: typeof model) => ({
          word,
          percent,
          pointwise,
          simultaneous,
          refusal,
          restsOnOne,
        });
        expect(numbers(model), `${key} of ${model.model}`).toEqual(
          compared && numbers({ ...model, ...compared, setup: model.setup }),
        );
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
      for (const classKey of DEMO_CLASSES) {
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

/** ln of what a setup of the demo world truly uses at reference conditions, by the setup's slug. */
async function trueLogs(classKey: string): Promise<Map<string, number>> {
  const setups = await prisma.setup.findMany({
    where: { world: 'demo' },
    select: {
      slug: true,
      model: { select: { name: true } },
      levels: { select: { level: { select: { label: true, isBaseline: true } } } },
    },
  });
  return new Map(
    setups.flatMap(({ slug, model, levels }) => {
      const demo = world.models.find(({ name }) => name === model.name);
      const changed = levels.filter(({ level }) => !level.isBaseline).map(({ level }) => level.label);
      const own = demo?.setups.find(({ levelKeys }, index) => {
        const plain = demo.setups[0]?.levelKeys ?? [];
        const labels = demo.levels
          .filter(
            ({ factor, key }) =>
              levelKeys.includes(`${factor}=${key}`) && !plain.includes(`${factor}=${key}`),
          )
          .map(({ label }) => label);
        return index === 0 ? changed.length === 0 : changed.length > 0 && labels.join() === changed.join();
      });
      const wh = own && world.truth.referenceWhPerKm[own.key]?.[classKey];
      return wh === undefined ? [] : [[slug, Math.log(wh)] as const];
    }),
  );
}

const contains = (ends: readonly [number, number] | null, value: number) =>
  ends !== null && ends[0] <= value && value <= ends[1];

describe('what the demo world’s factors are found to do', { timeout: 300_000 }, () => {
  it('is what they truly do: in nearly all models, and together', async () => {
    const inside: boolean[] = [];
    let together = 0;
    for (const classKey of DEMO_CLASSES) {
      const truth = await trueLogs(classKey);
      for (const { key } of FACTORS) {
        const factor = await readFactor(registry, key, { classKey, world: 'demo' });
        for (const { models, pooled } of factor?.effects ?? []) {
          const truths = models.flatMap(({ setup, baseline, pointwise }) => {
            const log = (truth.get(setup.slug) ?? Number.NaN) - (truth.get(baseline.slug) ?? Number.NaN);
            expect(log, setup.slug).not.toBeNaN();
            if (pointwise === null) return [];
            inside.push(contains(pointwise, 100 * Math.expm1(log)));
            return [log];
          });
          if (pooled === null) continue;
          together += 1;
          const mean = truths.reduce((sum, log) => sum + log, 0) / truths.length;
          expect(contains(pooled.simultaneous, 100 * Math.expm1(mean)), `${classKey} ${key}`).toBe(true);
        }
      }
    }
    // 95 % of about 25, some of them of the same cars
    expect(inside.length).toBeGreaterThan(20);
    expect(inside.filter(Boolean).length / inside.length).toBeGreaterThan(0.85);
    expect(together).toBeGreaterThan(1);
  });

  it('is so of cruise speed, model by model and together', async () => {
    const steps = (await readSpeedsOfWorld(registry, 'demo'))?.steps ?? [];
    expect(steps.map(({ slow, fast }) => `${slow.key} ${fast.key}`)).toEqual([
      'kmh-90 kmh-110',
      'kmh-110 kmh-130',
      'mph-70 kmh-130',
    ]);
    for (const { slow, fast, models, pooled } of steps) {
      const [at, faster] = [await trueLogs(slow.key), await trueLogs(fast.key)];
      const rises = models.map(({ setup, answer }) => {
        const log = (faster.get(setup.slug) ?? Number.NaN) - (at.get(setup.slug) ?? Number.NaN);
        if (answer !== null) {
          expect(contains(answer.simultaneous, 100 * Math.expm1(log)), setup.slug).toBe(true);
          // nobody doubts that faster costs more
          expect(answer.percent).toBeGreaterThan(5);
        }
        return log;
      });
      if (pooled === null) continue;
      const mean = rises.reduce((sum, log) => sum + log, 0) / rises.length;
      expect(contains(pooled.simultaneous, 100 * Math.expm1(mean))).toBe(true);
    }
  });
});

describe('what another car would do', { timeout: 300_000 }, () =>
  itEstimates(() => ({ registry, prisma }), DEMO_CLASSES),
);

describe('the interface for programs', { timeout: 300_000 }, () => itIsReadByPrograms(() => ({ registry })));

describe('in everyday words', { timeout: 300_000 }, () => {
  it.each(KINDS_OF_PAGE)('%s', async (kind) => {
    const pages = await publicPages(prisma, kind);
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

describe('everything that is published of the demo world', { timeout: 300_000 }, () => {
  itSnapshots(() => ({ registry, connection: server.connection, folder: parent }));
});
