import { MOST_COMPARED } from '@/lib/registry/comparisons/compare';
import { FACTORS } from '@/lib/run/factors';
import { PUBLIC_RUN_STATUSES } from '@/lib/run/runStatus';
import type { PrismaClient } from '@/prisma/generated/client';
import { renderedPage } from './pageText';

/** The speed classes that the demo world has runs of. */
export const DEMO_CLASSES = ['kmh-90', 'kmh-110', 'kmh-130', 'mph-70'];

/** Renders one page, when it is asked to. */
type PageOf = () => Promise<string>;

/** Every kind of public page but those on the method and on its intervals, each as often as the demo world varies it. */
const PAGES = {
  lists: async (): Promise<PageOf[]> => [
    () => renderedPage(import('@/app/(public)/page')),
    () => renderedPage(import('@/app/(public)/runs/page')),
    () => renderedPage(import('@/app/(public)/models/page')),
    () => renderedPage(import('@/app/(public)/loops/page')),
    () => renderedPage(import('@/app/(public)/protocol/page')),
    () => renderedPage(import('@/app/(public)/safety/page')),
    () => renderedPage(import('@/app/(public)/data/api/page')),
    () => renderedPage(import('@/app/(public)/display/page')),
    () => renderedPage(import('@/app/(account)/sign-in/page')),
    () => renderedPage(import('@/app/(account)/sign-up/page')),
  ],
  rankings: async (): Promise<PageOf[]> =>
    DEMO_CLASSES.map(
      (key) => () => renderedPage(import('@/app/(public)/rankings/page'), {}, { class: key, world: 'demo' }),
    ),
  comparisons: async (prisma: PrismaClient): Promise<PageOf[]> =>
    DEMO_CLASSES.map((key) => async () => {
      const setups = await prisma.setup.findMany({
        where: { estimates: { some: { fit: { isCurrent: true, group: { cruiseClassKey: key } } } } },
        take: MOST_COMPARED,
      });
      const setup = setups.map(({ slug }) => slug);
      return renderedPage(import('@/app/(public)/compare/page'), {}, { class: key, world: 'demo', setup });
    }),
  publishedComparison: async (prisma: PrismaClient): Promise<PageOf[]> =>
    ['kmh-90', 'kmh-110'].map((key) => async () => {
      const ofGroup = { fit: { isCurrent: true, group: { cruiseClassKey: key } } };
      const setups = await prisma.setup.findMany({ where: { estimates: { some: ofGroup } }, take: 3 });
      const query = { class: key, world: 'demo', setup: setups.map(({ slug }) => slug) };
      return renderedPage(import('@/app/(public)/compare/publish/page'), {}, query);
    }),
  factors: async (): Promise<PageOf[]> => [
    () => renderedPage(import('@/app/(public)/factors/page')),
    ...FACTORS.map(
      ({ key }) =>
        () =>
          renderedPage(import('@/app/(public)/factors/[key]/page'), { key }),
    ),
  ],
  estimates: async (prisma: PrismaClient): Promise<PageOf[]> => {
    const setups = await prisma.setup.findMany({
      where: { estimates: { some: { fit: { isCurrent: true } } } },
      orderBy: { slug: 'asc' },
      include: { model: { include: { setups: true } } },
      take: 6,
    });
    const asked: Record<string, string>[] = [
      { homePrice: '0.3', wayPrice: '0.6' },
      { air: '-30' },
      { start: '10', arrive: '80', capacity: '70' },
      { trip: '1200', climate: 'heating', air: '-5', windSpeed: '4', windFrom: 'ahead' },
    ];
    return [
      () => renderedPage(import('@/app/(public)/estimate/page')),
      ...setups.map(({ slug, model }, index) => () => {
        const against = model.setups.find((other) => other.slug !== slug)?.slug ?? '';
        const query = { setup: slug, against, ...asked[index % asked.length] };
        return renderedPage(import('@/app/(public)/estimate/page'), {}, query);
      }),
    ];
  },
  setups: async (prisma: PrismaClient): Promise<PageOf[]> =>
    (await prisma.setup.findMany({ where: { estimates: { some: {} } } })).map(
      ({ slug }) =>
        () =>
          renderedPage(import('@/app/(public)/setups/[slug]/page'), { slug }),
    ),
  models: async (prisma: PrismaClient): Promise<PageOf[]> =>
    (await prisma.vehicleModel.findMany()).map(
      ({ slug }) =>
        () =>
          renderedPage(import('@/app/(public)/models/[slug]/page'), { slug }),
    ),
  loops: async (prisma: PrismaClient): Promise<PageOf[]> =>
    (await prisma.loop.findMany()).map(
      ({ slug }) =>
        () =>
          renderedPage(import('@/app/(public)/loops/[slug]/page'), { slug }),
    ),
  testers: async (prisma: PrismaClient): Promise<PageOf[]> =>
    (await prisma.account.findMany({ where: { runs: { some: { status: 'approved' } } }, take: 2 })).map(
      ({ slug }) =>
        () =>
          renderedPage(import('@/app/(public)/testers/[slug]/page'), { slug }),
    ),
  runs: async (prisma: PrismaClient): Promise<PageOf[]> => {
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

export const KINDS_OF_PAGE = Object.keys(PAGES) as (keyof typeof PAGES)[];

export const publicPages = (prisma: PrismaClient, kind: keyof typeof PAGES) => PAGES[kind](prisma);
