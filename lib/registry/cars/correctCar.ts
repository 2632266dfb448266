import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { CAR_NAME_TAKEN, carColumns, carValues, withSoundOwnValues } from '@/lib/capture/carValues';
import { changedColumns } from '@/lib/reduction/corrections/change';
import { InvalidInput, NotFound } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { worldKey } from '@/lib/run/world';
import { lockedCar, updateCar } from '@/lib/store/cars';
import { isUniqueViolation } from '@/lib/store/database';
import { type Proposed, propose } from '../corrections/propose';
import { correctionReason, oneAtATime } from '../corrections/reason';
import type { Registry } from '../registry';

export const correctCarSchema = withSoundOwnValues(
  z.object({ carId: z.uuid(), reason: correctionReason, ...carValues }),
);

const COAST_DOWN = ['coastDownF0N', 'coastDownF1NPerKmh', 'coastDownF2NPerKmh2'] as const;
const VALUES = [
  ...['registeredMassKg', 'usableCapacityWh', 'usableCapacityUWh', 'dragAreaM2', 'rollingCoefficient'],
  ...[...COAST_DOWN, 'ownValuesSource', 'placardFrontPa', 'placardRearPa'],
] as const;

/**
 * Puts right what was wrong of a car all along: its runs get new revisions, once a reviewer has approved them all. Its
 * name, from which nothing follows, changes at once.
 */
export async function correctCar(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<Proposed> {
  const { carId, reason, ...values } = parseInput(correctCarSchema, input);
  try {
    return await registry.db.$transaction(async (tx) => {
      const before = await lockedCar(tx, carId);
      if (before === null) throw new NotFound('This car does not exist.');
      authorise(actor, 'editCar', before.ownerId);
      const after = carColumns(values);
      const found = changedColumns(before, after, VALUES as readonly (keyof typeof after)[]);
      // The three of a coast-down are one fit: changed together, or not at all.
      const fit = COAST_DOWN.some((name) => found[name] !== undefined)
        ? Object.fromEntries(COAST_DOWN.map((name) => [name, { before: before[name], after: after[name] }]))
        : {};
      if (after.name !== before.name) await updateCar(tx, carId, { name: after.name });
      const columns = { ...found, ...fit };
      return propose(
        tx,
        {
          subjectId: carId,
          world: worldKey(before.world),
          change: { kind: 'car', columns },
          reason,
          byId: actor.accountId,
          act: { action: 'car.change', subjectKind: 'car', details: columns },
        },
        registry.now(),
      );
    });
  } catch (error) {
    oneAtATime(error);
    if (!isUniqueViolation(error)) throw error;
    throw new InvalidInput([CAR_NAME_TAKEN]);
  }
}
