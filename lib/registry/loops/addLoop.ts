import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { nameField } from '@/lib/run/names/publicName';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { freeSlug } from '@/lib/run/slug';
import { joinedWorld, RECORD } from '@/lib/run/world';
import { appendAudit } from '@/lib/store/audit';
import { insertLoop, isLoopSlugTaken } from '@/lib/store/loops';
import { claimName } from '../names/claimName';
import type { Registry } from '../registry';

const bearings = z
  .array(z.object({ bearingDeg: z.number().min(0).max(360), share: z.number().min(0).max(1) }))
  .min(
    1,
    'The direction of the route is missing. | Wind acts along and across it. | Enter at least one bearing.',
  )
  .max(72)
  .refine((list) => Math.abs(list.reduce((sum, one) => sum + one.share, 0) - 1) < 1e-3, {
    message:
      'The shares of the bearings do not add up to 100 %. | They describe the whole route. | Correct the shares.',
  });

const leg = z.object({
  direction: z.enum(['outbound', 'return']),
  lengthM: z.number().min(500).max(1_000_000),
  netClimbM: z.number().min(-3000).max(3000),
  bearings,
});

export const addLoopSchema = z.object({
  name: nameField({
    least: 2,
    most: 80,
    tooShort: 'The loop has no name. | Runs are listed under it. | Enter one; leave your home out of it.',
    tooLong: 'The name is too long. | It is shown in tables. | Use at most 80 characters.',
  }),
  region: nameField({
    least: 1,
    most: 80,
    tooShort: 'The region is missing. | Readers place the loop by it. | Enter it.',
    tooLong: 'The region is too long. | It is shown in tables. | Use at most 80 characters.',
  }),
  description: z.string().trim().max(2000).default(''),
  turnaround: z
    .string()
    .trim()
    .min(1, 'The turnaround is missing. | Others can only repeat what is described. | Name the junction.')
    .max(120),
  lengthM: z
    .number()
    .min(
      2000,
      'The loop is shorter than 2 km. | Ramps would dominate it. | Enter the whole way out and back.',
    )
    .max(1_500_000),
  lengthUncertaintyM: z.number().min(0).max(50_000),
  lengthSource: z.string().trim().min(1).max(200),
  altitudeM: z.number().min(-500).max(6000),
  netClimbM: z.number().min(-50).max(50).default(0),
  grossClimbM: z.number().min(0).max(20_000).optional(),
  closureDistanceM: z.number().min(0).max(50_000),
  closureHeightM: z.number().min(0).max(1000),
  sharedRouteShare: z.number().min(0).max(1),
  offCruiseShare: z.number().min(0).max(1),
  postedLimitMps: z
    .number()
    .min(5, 'The posted limit is too low. | It is the lowest limit on the open legs. | Check the unit.')
    .max(60, 'The posted limit is too high. | It is the lowest limit on the open legs. | Check the unit.'),
  bearings,
  outline: z
    .array(z.object({ x: z.number(), y: z.number() }))
    .max(5000)
    .optional(),
  elevationProfile: z
    .array(z.object({ distanceM: z.number(), heightM: z.number() }))
    .max(5000)
    .optional(),
  legs: z.array(leg).max(2).default([]),
});

/** Adds a fixed route out and back. */
export async function addLoop(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<{ loopId: string; slug: string }> {
  authorise(actor, 'addLoop');
  const { legs, outline, elevationProfile, grossClimbM, ...loop } = parseInput(addLoopSchema, input);
  return registry.db.$transaction(async (tx) => {
    const now = registry.now();
    const inserted = await insertLoop(tx, {
      ...loop,
      ownerId: actor.accountId,
      slug: await freeSlug(loop.name, (candidate) => isLoopSlugTaken(tx, candidate)),
      grossClimbM: grossClimbM ?? null,
      ...(outline ? { outline } : {}),
      ...(elevationProfile ? { elevationProfile } : {}),
      legs: { create: legs },
      world: joinedWorld([registry.world, actor.world ?? RECORD]),
      createdAt: now,
    });
    await claimName(
      tx,
      {
        kind: 'loop',
        scope: joinedWorld([registry.world, actor.world ?? RECORD]),
        thingId: inserted.id,
        name: loop.name,
      },
      'name',
    );
    await appendAudit(tx, {
      at: now,
      actorId: actor.accountId,
      action: 'loop.add',
      subjectKind: 'loop',
      subjectId: inserted.id,
      details: { name: loop.name },
    });
    return { loopId: inserted.id, slug: inserted.slug };
  });
}
