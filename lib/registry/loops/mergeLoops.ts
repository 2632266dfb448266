import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { requireFresh } from '@/lib/access/fresh';
import { cruiseClassByKey } from '@/lib/run/cruiseClass';
import { Conflict, NotFound } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { isSlug } from '@/lib/run/slug';
import { worldKey } from '@/lib/run/world';
import { appendAudit } from '@/lib/store/audit';
import { lockSubject } from '@/lib/store/correctedSubjects';
import { openCorrectionOf } from '@/lib/store/corrections';
import type { Queryable } from '@/lib/store/database';
import {
  conclusionsOnLoop,
  countedUnder,
  type HangingOnLoop,
  hangingOnLoop,
  type LoopToMerge,
  lockRunsOnLoop,
  loopToMerge,
  markMerged,
  moveToLoop,
} from '@/lib/store/mergedLoops';
import { dropNameKeys } from '@/lib/store/nameKeys';
import { recountRuns } from '../counted/countRun';
import { curationReason } from '../names/rename';
import { enqueueConclusions } from '../rankings/enqueueConclusions';
import type { Registry } from '../registry';

/** Each of its runs is counted anew in the one transaction. */
const PATIENT = { timeout: 180_000, maxWait: 10_000 };

const mergeSchema = z.object({
  slug: z.string().max(120),
  intoSlug: z.string().max(120),
  reason: curationReason,
});

export interface LoopMergePreview extends HangingOnLoop {
  from: { slug: string; name: string };
  into: { slug: string; name: string };
  /** The classes that are fitted again. */
  classes: string[];
  /** Why it cannot be done; undefined where it can. */
  refusal: string | undefined;
}

/** What would move from one loop to another, and what keeps it from being done. */
export async function previewLoopMerge(
  registry: Registry,
  actor: Actor | undefined,
  { slug, intoSlug }: { slug: string; intoSlug: string },
): Promise<LoopMergePreview> {
  authorise(actor, 'curateNames');
  const { from, into } = await bothLoops(registry.db, slug, intoSlug);
  const [hanging, conclusions, refusal] = await Promise.all([
    hangingOnLoop(registry.db, from.id, into.id),
    conclusionsOnLoop(registry.db, from.id),
    refusalOf(registry.db, from, into),
  ]);
  const keys = new Set(conclusions.map(({ cruiseClassKey }) => cruiseClassKey));
  return {
    ...hanging,
    from: { slug: from.slug, name: from.name },
    into: { slug: into.slug, name: into.name },
    classes: [...keys].map((key) => cruiseClassByKey(key)?.label ?? key),
    refusal,
  };
}

/**
 * Two entries of one road become one: sessions, runs, counted rows and drafts move to the other loop, its address leads
 * there, and what was concluded is concluded anew. No number of a run moves: revisions and snapshots keep the loop that
 * they were computed from.
 */
export async function mergeLoops(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<{ slug: string }> {
  authorise(actor, 'curateNames');
  requireFresh(actor, registry.now());
  const { slug, intoSlug, reason } = parseInput(mergeSchema, input);
  return registry.db.$transaction(async (tx) => {
    const seen = await bothLoops(tx, slug, intoSlug);
    // In one order, so that two merges wait for each other; submissions wait as well.
    for (const id of [seen.from.id, seen.into.id].sort()) await lockSubject(tx, 'loop', id);
    const { from, into } = await bothLoops(tx, slug, intoSlug);
    for (const { world } of [from, into]) authorise(actor, 'curateNames', undefined, worldKey(world));
    const refusal = await refusalOf(tx, from, into);
    if (refusal !== undefined) throw new Conflict(refusal);
    const runIds = await lockRunsOnLoop(tx, from.id);
    const conclusions = await conclusionsOnLoop(tx, from.id);
    const at = registry.now();
    if (!(await markMerged(tx, from.id, into.id))) throw new Conflict('It was merged a moment ago.');
    await moveToLoop(tx, { fromId: from.id, toId: into.id, runIds });
    // What runs of a loop have in common is keyed by the loop: counted anew from the stored results.
    for (const { world, methodVersion } of await countedUnder(tx, runIds))
      await recountRuns(tx, runIds, { world: worldKey(world), methodVersion });
    for (const conclusion of conclusions) await enqueueConclusions(tx, conclusion, at);
    await dropNameKeys(tx, from.id);
    await appendAudit(tx, {
      at,
      actorId: actor.accountId,
      action: 'loop.merge',
      subjectKind: 'loop',
      subjectId: from.id,
      details: {
        into: into.name,
        address: { before: from.slug, after: into.slug },
        runs: runIds.length,
        reason,
      },
    });
    return { slug: into.slug };
  }, PATIENT);
}

async function bothLoops(db: Queryable, slug: string, intoSlug: string) {
  const [from, into] = await Promise.all(
    [slug, intoSlug].map((one) => (isSlug(one) ? loopToMerge(db, { slug: one }) : null)),
  );
  if (!from || !into) throw new NotFound('One of the two loops does not exist, or was merged before.');
  return { from, into };
}

/** Two entries are one road where nothing of what a run is computed from tells them apart. */
async function refusalOf(db: Queryable, from: LoopToMerge, into: LoopToMerge): Promise<string | undefined> {
  if (from.id === into.id) return 'A loop is not merged with itself.';
  if (from.world !== into.world) return 'The two belong to different worlds.';
  if (into.hiddenAt !== null) return 'The loop that would stay is hidden. Show it first.';
  if (Math.abs(from.postedLimitMps - into.postedLimitMps) > 0.01)
    return 'Their posted limits differ: runs of one would stand under the limit of the other. Correct a limit first.';
  if (!isOneLength(from, into))
    return 'Their lengths differ by more than both are uncertain: these are two roads, or one length is wrong. Correct it first.';
  for (const { id, name } of [from, into]) {
    const open = await openCorrectionOf(db, id);
    if (open !== null) return `Correction ${open.number} of ${name} is not decided yet.`;
  }
  return undefined;
}

/**
 * Whether two stated lengths can be of one road: their difference within twice its standard uncertainty, that of
 * independent values added in squares (JCGM 100:2008, 5.1.2; coverage factor 2, about 95 %, 6.3.3). Lengths in metres.
 */
function isOneLength(a: LoopToMerge, b: LoopToMerge): boolean {
  const u = Math.hypot(a.lengthUncertaintyM, b.lengthUncertaintyM);
  return Math.abs(a.lengthM - b.lengthM) <= 2 * u;
}
