import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import {
  CAR_NAME_TAKEN,
  type CarValues,
  carColumns,
  carValues,
  withSoundOwnValues,
} from '@/lib/capture/carValues';
import { InvalidInput, NotFound } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { appendAudit } from '@/lib/store/audit';
import { lockedCar, updateCar } from '@/lib/store/cars';
import { isUniqueViolation } from '@/lib/store/database';
import { refuseWhileOpen } from '../corrections/propose';
import type { Registry } from '../registry';

export const changeCarSchema = withSoundOwnValues(z.object({ carId: z.uuid(), ...carValues }));

/**
 * Replaces what a car's owner said of it, as the car itself has changed; what is left empty is taken back. Runs submitted
 * before keep what they were made from. What was wrong all along is another thing (correctCar.ts).
 */
export async function changeCar(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<{ changed: string[] }> {
  const { carId, ...values } = parseInput(changeCarSchema, input);
  try {
    return await registry.db.$transaction(async (tx) => {
      const before = await lockedCar(tx, carId);
      if (before === null) throw new NotFound('This car does not exist.');
      authorise(actor, 'editCar', before.ownerId);
      const after = carColumns(values);
      const changed = (Object.keys(after) as (keyof CarValues)[]).filter(
        (name) => after[name] !== before[name],
      );
      if (changed.length === 0) return { changed };
      if (changed.some((name) => name !== 'name')) await refuseWhileOpen(tx, carId);
      await updateCar(tx, carId, after);
      await appendAudit(tx, {
        at: registry.now(),
        actorId: actor.accountId,
        action: 'car.change',
        subjectKind: 'car',
        subjectId: carId,
        details: Object.fromEntries(
          // a name is the owner's affair and erased with them: the log only says that it changed
          changed.map((name) => [
            name,
            name === 'name' ? 'changed' : { before: before[name], after: after[name] },
          ]),
        ),
      });
      return { changed };
    });
  } catch (error) {
    if (!isUniqueViolation(error)) throw error;
    throw new InvalidInput([CAR_NAME_TAKEN]);
  }
}
