import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { CAR_NAME_TAKEN, carColumns, carValues, withSoundOwnValues } from '@/lib/capture/carValues';
import { InvalidInput, NotFound } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { joinedWorld, RECORD, worldKey } from '@/lib/run/world';
import { appendAudit } from '@/lib/store/audit';
import { insertCar } from '@/lib/store/cars';
import { isUniqueViolation } from '@/lib/store/database';
import { modelById } from '@/lib/store/models';
import type { Registry } from '../registry';

export const addCarSchema = withSoundOwnValues(
  z.object({
    modelId: z.uuid('No model chosen. | A car is of one model. | Choose it, or add it first.'),
    ...carValues,
  }),
);

/** Adds a car to the actor's own. */
export async function addCar(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<{ carId: string }> {
  authorise(actor, 'addCar');
  const car = parseInput(addCarSchema, input);
  try {
    return await registry.db.$transaction(async (tx) => {
      const model = await modelById(tx, car.modelId);
      if (model === null) throw new NotFound('This model does not exist.');
      const now = registry.now();
      const inserted = await insertCar(tx, {
        ownerId: actor.accountId,
        modelId: car.modelId,
        ...carColumns(car),
        world: joinedWorld([registry.world, actor.world ?? RECORD, worldKey(model.world)]),
        createdAt: now,
      });
      await appendAudit(tx, {
        at: now,
        actorId: actor.accountId,
        action: 'car.add',
        subjectKind: 'car',
        subjectId: inserted.id,
      });
      return { carId: inserted.id };
    });
  } catch (error) {
    if (!isUniqueViolation(error)) throw error;
    throw new InvalidInput([CAR_NAME_TAKEN]);
  }
}
