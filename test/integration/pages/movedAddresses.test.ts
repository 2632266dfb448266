import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { mergeLoops } from '@/lib/registry/loops/mergeLoops';
import { setHiding } from '@/lib/registry/names/hide';
import { renameLoop, renameModel } from '@/lib/registry/names/rename';
import { modelWords } from '@/lib/run/modelWords';
import type { Actor } from '@/lib/run/roles';
import { freshDatabase } from '@/test/helpers/database';
import { renderedPage, textOfMarkup } from '@/test/helpers/pageText';
import { loopOf, person, registryOn, vehicleOf } from '@/test/helpers/smallRegistry';
import { stillNavigation } from '@/test/helpers/stillNavigation';

/** What was an address goes on leading to the thing, for a reader and for whoever follows a link to a form or a figure. */
const { prisma } = await freshDatabase();
const { registry, remove } = await registryOn(prisma);
afterAll(remove);

let visitor: (Actor & { displayName: string }) | undefined;
vi.mock('@/app/visitor/registry', () => ({ registry: () => registry }));
vi.mock('@/app/visitor/actor', () => ({
  signedIn: async () => visitor,
  requireSignedIn: async () => visitor,
}));
vi.mock('@/app/visitor/displayCookie', () => ({ displayOfCookie: async () => undefined }));
vi.mock('next/navigation', async (original) => stillNavigation(await original()));

const REASON = 'It was misspelt when it was added.';
const old = { loop: '', double: '', model: '' };
const now = { loop: '', model: '' };

beforeAll(async () => {
  const tester = await person(registry, 'Mira Holm');
  const steward = await person(registry, 'Jon Sand', 'steward');
  const slugOf = async (id: string) => (await prisma.loop.findUniqueOrThrow({ where: { id } })).slug;
  old.loop = await slugOf(await loopOf(registry, tester));
  old.double = await slugOf(await loopOf(registry, tester, 'Causeway twice'));
  const { modelId } = await vehicleOf(registry, tester);
  const model = await prisma.vehicleModel.findUniqueOrThrow({
    where: { id: modelId },
    include: { maker: true },
  });
  old.model = model.slug;
  await mergeLoops(registry, steward, { key: old.double, intoKey: old.loop, reason: REASON });
  const loop = { slug: old.loop, seenName: 'North causeway', name: 'Northern causeway', reason: REASON };
  now.loop = (await renameLoop(registry, steward, loop)).slug;
  const seenName = modelWords(model);
  const renamed = { slug: old.model, seenName, name: 'Skerries', variant: model.variant, reason: REASON };
  now.model = (await renameModel(registry, steward, renamed)).slug;
  visitor = { ...tester, displayName: 'Mira Holm' };
  await setHiding(registry, steward, {
    kind: 'loop',
    key: now.loop,
    to: 'hidden',
    reason: 'The road is closed for good.',
  });
}, 60_000);

/** Where a page leads instead, and how: the framework tells by the digest of what is thrown. */
async function leadsTo(...page: Parameters<typeof renderedPage>): Promise<string> {
  try {
    await renderedPage(...page);
  } catch (error) {
    return String((error as { digest?: unknown }).digest);
  }
  return 'nowhere';
}

describe('an address that was given up', () => {
  it('leads on from pages of a loop and of a model, for good and with what else it says', async () => {
    for (const slug of [old.loop, old.double])
      expect(await leadsTo(import('@/app/(public)/loops/[slug]/page'), { slug }, { from: 'x' })).toContain(
        `;/loops/${now.loop}?from=x;308`,
      );
    expect(await leadsTo(import('@/app/(public)/models/[slug]/page'), { slug: old.model })).toContain(
      `;/models/${now.model};308`,
    );
    for (const [page, path] of [
      [import('@/app/(tester)/models/[slug]/correct/page'), 'correct'],
      [import('@/app/(tester)/models/[slug]/charging/page'), 'charging'],
    ] as const)
      expect(await leadsTo(page, { slug: old.model })).toContain(`;/models/${now.model}/${path};308`);
    expect(await leadsTo(import('@/app/(tester)/loops/[slug]/correct/page'), { slug: old.loop })).toContain(
      `;/loops/${now.loop}/correct;308`,
    );
    expect(await leadsTo(import('@/app/(public)/loops/[slug]/page'), { slug: 'never-was' })).toContain('404');
  });

  it('leads on from figures', async () => {
    const { GET } = await import('@/app/figures/[kind]/[file]/route');
    const answer = await GET(new Request('http://registry.example/figures/route/x.svg?theme=dark'), {
      params: Promise.resolve({ kind: 'route', file: `${old.double}.svg` }),
    });
    expect(answer.status).toBe(308);
    expect(answer.headers.get('location')).toBe(`/figures/route/${now.loop}.svg?theme=dark`);
  });

  it('of what is hidden opens its page, which says why', async () => {
    const text = textOfMarkup(
      await renderedPage(import('@/app/(public)/loops/[slug]/page'), { slug: now.loop }),
    );
    expect(text).toContain('not listed any more');
    expect(text).toContain('The road is closed for good.');
    const list = textOfMarkup(await renderedPage(import('@/app/(public)/loops/page')));
    expect(list).not.toContain('Northern causeway');
  });
});
