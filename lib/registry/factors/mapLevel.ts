import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { Conflict, NotFound } from '@/lib/run/errors';
import { modelInText } from '@/lib/run/modelWords';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { worldKey } from '@/lib/run/world';
import { appendAudit } from '@/lib/store/audit';
import { enqueueJob } from '@/lib/store/jobs';
import { holdSharedLevel, levelToMap, moveLevel, sharedLevelById } from '@/lib/store/sharedLevels';
import type { Registry } from '../registry';
import { FACTORS_JOB } from './concludeFactors';

const mapLevelSchema = z.object({
  levelId: z.uuid(),
  /** What it was mapped to when the steward looked; null for nothing. */
  seenId: z.uuid().nullable(),
  /** Null takes the mapping back. */
  sharedLevelId: z.uuid().nullable(),
});

/** Maps a level that testers named to a shared one of its factor and world, to another one, or to none again. */
export async function mapLevel(registry: Registry, actor: Actor | undefined, input: unknown): Promise<void> {
  authorise(actor, 'mapLevels');
  const { levelId, seenId, sharedLevelId } = parseInput(mapLevelSchema, input);
  await registry.db.$transaction(async (tx) => {
    const level = await levelToMap(tx, levelId);
    if (level === null) throw new NotFound('This level does not exist.');
    const world = worldKey(level.model.world);
    authorise(actor, 'mapLevels', undefined, world);
    const [from, to] = [
      seenId === null ? null : await sharedLevelById(tx, seenId),
      sharedLevelId === null ? null : await holdSharedLevel(tx, sharedLevelId, 'used'),
    ];
    if (sharedLevelId !== null && to === null) throw new NotFound('This shared level does not exist.');
    if (to !== null && (to.world !== world || to.factor !== level.factor))
      throw new Conflict('A level is mapped to a shared one of its own factor and world only.');
    if (seenId === sharedLevelId) return;
    if (!(await moveLevel(tx, { id: levelId, from: seenId, to: sharedLevelId })))
      throw new Conflict('Another steward mapped this level a moment ago. Look at it first.');
    const at = registry.now();
    await appendAudit(tx, {
      at,
      actorId: actor.accountId,
      action: to === null ? 'factor.unmapLevel' : 'factor.mapLevel',
      subjectKind: 'factorLevel',
      subjectId: levelId,
      details: {
        factor: level.factor,
        model: modelInText(level.model),
        level: level.label,
        from: from?.words ?? null,
        to: to?.words ?? null,
      },
    });
    await enqueueJob(tx, FACTORS_JOB, world, at);
  });
}
