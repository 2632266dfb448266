import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { requireFresh } from '@/lib/access/fresh';
import { Conflict, NotFound } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { isSlug } from '@/lib/run/slug';
import { worldKey } from '@/lib/run/world';
import { appendAudit } from '@/lib/store/audit';
import { lockSubject } from '@/lib/store/correctedSubjects';
import type { Queryable } from '@/lib/store/database';
import { type LoopToMerge, loopToMerge, markMerged, moveToLoop } from '@/lib/store/mergedLoops';
import { hangingSessions } from '@/lib/store/merging';
import { dropNameKeys } from '@/lib/store/nameKeys';
import {
  followMoved,
  holdMoving,
  type MergePreview,
  openCorrectionRefusal,
  PATIENT,
  previewRuns,
} from '../names/merging';
import { curationReason } from '../names/rename';
import type { Registry } from '../registry';

const mergeSchema = z.object({
  key: z.string().max(120),
  intoKey: z.string().max(120),
  reason: curationReason,
});

/** What would move from one loop to another, and what keeps it from being done. */
export async function previewLoopMerge(
  registry: Registry,
  actor: Actor | undefined,
  { key, intoKey }: { key: string; intoKey: string },
): Promise<MergePreview> {
  authorise(actor, 'curateNames');
  const { from, into } = await bothLoops(registry.db, key, intoKey);
  const [hanging, sessions, refusal] = await Promise.all([
    previewRuns(registry.db, { loopId: from.id }),
    hangingSessions(registry.db, 'loop', from.id, into.id),
    refusalOf(registry.db, from, into),
  ]);
  return {
    ...hanging,
    ...sessions,
    from: { key: from.slug, words: from.name },
    into: { key: into.slug, words: into.name },
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
  const { key, intoKey, reason } = parseInput(mergeSchema, input);
  return registry.db.$transaction(async (tx) => {
    const seen = await bothLoops(tx, key, intoKey);
    // In one order, so that two merges wait for each other; submissions wait as well.
    for (const id of [seen.from.id, seen.into.id].sort()) await lockSubject(tx, 'loop', id);
    const { from, into } = await bothLoops(tx, key, intoKey);
    for (const { world } of [from, into]) authorise(actor, 'curateNames', undefined, worldKey(world));
    const refusal = await refusalOf(tx, from, into);
    if (refusal !== undefined) throw new Conflict(refusal);
    const moving = await holdMoving(tx, { loopId: from.id });
    const at = registry.now();
    if (!(await markMerged(tx, from.id, into.id))) throw new Conflict('It was merged a moment ago.');
    await moveToLoop(tx, from.id, into.id);
    await followMoved(tx, moving, at);
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
        runs: moving.runIds.length,
        reason,
      },
    });
    return { slug: into.slug };
  }, PATIENT);
}

async function bothLoops(db: Queryable, key: string, intoKey: string) {
  const [from, into] = await Promise.all(
    [key, intoKey].map((one) => (isSlug(one) ? loopToMerge(db, { slug: one }) : null)),
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
  return openCorrectionRefusal(
    db,
    [from, into].map(({ id, name }) => ({ id, words: name })),
  );
}

/**
 * Whether two stated lengths can be of one road: their difference within twice its standard uncertainty, that of
 * independent values added in squares (JCGM 100:2008, 5.1.2; coverage factor 2, about 95 %, 6.3.3). Lengths in metres.
 */
function isOneLength(a: LoopToMerge, b: LoopToMerge): boolean {
  const u = Math.hypot(a.lengthUncertaintyM, b.lengthUncertaintyM);
  return Math.abs(a.lengthM - b.lengthM) <= 2 * u;
}
