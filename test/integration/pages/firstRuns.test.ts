import { afterAll, describe, expect, it, vi } from 'vitest';
import { myNotifications } from '@/lib/registry/accounts/notifications';
import { claimRun } from '@/lib/registry/review/claimRun';
import { runJobsNow } from '@/lib/registry/runJobs';
import type { Actor } from '@/lib/run/roles';
import { freshDatabase } from '@/test/helpers/database';
import { specialistLines } from '@/test/helpers/everydayWords';
import { renderedPage, textOfMarkup } from '@/test/helpers/pageText';
import { approved, loopOf, person, registryOn, submitted, vehicleOf } from '@/test/helpers/smallRegistry';
import { stillNavigation } from '@/test/helpers/stillNavigation';

/** The first approved runs of a class, as every page tells of them: A, A B, A B B. */
const { prisma } = await freshDatabase();
const { registry, clock, remove } = await registryOn(prisma);
afterAll(remove);

let visitor: (Actor & { displayName: string }) | undefined;
vi.mock('@/app/visitor/registry', () => ({ registry: () => registry }));
vi.mock('@/app/visitor/actor', () => ({
  signedIn: async () => visitor,
  requireSignedIn: async () => visitor,
}));
vi.mock('@/app/visitor/displayCookie', () => ({ displayOfCookie: async () => undefined }));
vi.mock('next/navigation', async (original) => stillNavigation(await original()));

/** Also of a class too young to know much, a public page is said in everyday words. */
async function textOf(...page: Parameters<typeof renderedPage>): Promise<string> {
  const markup = await renderedPage(...page);
  if (visitor === undefined) expect(specialistLines(markup)).toEqual([]);
  return textOfMarkup(markup);
}

const NEVER = [
  /stopped before it was done/,
  /counts in the rankings/,
  // a spread or a limit where nothing can be seen, and an expected range that says nothing
  /\b(Spread|limit|deviation)[^\n]*\n[^\n]*\b0\.00 %/,
  /\b\d{4,} kWh\/100 km/,
  /\b1 (other |approved )?(runs|cars|days|sessions|setups|testers|loops|pairs)\b/,
  /\ball 1 /,
];

describe('the first approved runs of a class', { timeout: 600_000 }, () => {
  it('read well on every page, from the first to the third', async () => {
    const tester = await person(registry, 'Mira Holm');
    const reviewer = await person(registry, 'Ada Quill', 'reviewer');
    const vehicle = await vehicleOf(registry, tester);
    const loopId = await loopOf(registry, tester);
    const form = (day: number, hour: string, energy: string, setupId: string) => ({
      carId: vehicle.carId,
      setupId,
      loopId,
      startedAtLocal: `2026-05-${day}T${hour}:00`,
      tripEnergy: energy,
      tripEfficiency: (66.8 / Number(energy)).toFixed(2),
    });
    const [a, b] = [vehicle.baselineId, vehicle.lowId];
    const slugs = new Map(
      (await prisma.setup.findMany({ where: { id: { in: [a, b] } } })).map(({ id, slug }) => [id, slug]),
    );
    const [model, loop] = await Promise.all([
      prisma.vehicleModel.findFirstOrThrow(),
      prisma.loop.findFirstOrThrow(),
    ]);
    const runs = [form(14, '08', '32.9', a), form(14, '10', '31.9', b), form(14, '12', '31.7', b)];
    const empty = await textOf(import('@/app/(public)/page'));
    expect(empty).toContain('This registry has no steward yet.');
    expect(empty).not.toContain('Latest approved runs');
    for (const [i, run] of runs.entries()) {
      await approved(registry, tester, reviewer, run);
      clock.now = new Date(clock.now.getTime() + 60_000);
      await runJobsNow(registry);
      const next = await submitted(registry, tester, form(15 + i, '09', '32.4', b));
      await claimRun(registry, reviewer, { runId: next.runId });

      visitor = undefined;
      const home = await textOf(import('@/app/(public)/page'));
      const rankings = await textOf(import('@/app/(public)/rankings/page'));
      const setup = await textOf(import('@/app/(public)/setups/[slug]/page'), { slug: slugs.get(a) ?? '' });
      const modelText = await textOf(import('@/app/(public)/models/[slug]/page'), { slug: model.slug });
      const compare = await textOf(
        import('@/app/(public)/compare/page'),
        {},
        {
          setup: [...slugs.values()],
        },
      );
      const loopText = await textOf(import('@/app/(public)/loops/[slug]/page'), { slug: loop.slug });
      visitor = { ...reviewer, displayName: 'Ada Quill' };
      const review = await textOf(import('@/app/(review)/review/[number]/page'), {
        number: String(next.runNumber),
      });
      for (const text of [home, rankings, setup, modelText, compare, loopText, review]) {
        for (const words of NEVER) expect(text, `after ${i + 1}`).not.toMatch(words);
      }
      // one car: no interval of its own, and where a single run could land under a heading of its own
      for (const text of [rankings, setup, modelText, ...(i === 0 ? [] : [compare])]) {
        expect(text).toContain('none of its own');
        expect(text).toContain('Where a single run could land');
      }
      // the answer stands on the home page as soon as there are two setups to tell apart, before what is to be done
      const answerAt = home.indexOf('“Low ride height”');
      expect(answerAt > 0, `after ${i + 1}`).toBe(i > 0);
      expect(answerAt).toBeLessThan(home.indexOf('What to do next'));
      expect(rankings).toContain('car variation assumed');
      if (i > 0) expect(review).toMatch(/besides this one/);
      // what is expected of a further run is within the reach of such a car
      const expected = /95\s%\sinterval\s([\d.]+)\sto\s([\d.]+)\skWh/u.exec(
        review.split('Expected without')[1] ?? '',
      );
      if (i > 0) expect(Number(expected?.[2]) / Number(expected?.[1])).toBeLessThan(1.25);
    }
    const notes = await myNotifications(registry, tester);
    expect(JSON.stringify(notes)).not.toContain('rankings');
  });
});
