import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { InvalidInput, NotFound } from '@/lib/domain/errors';
import type { Actor } from '@/lib/domain/roles';
import { appendAudit } from '@/lib/store/audit';
import { isUniqueViolation } from '@/lib/store/database';
import { insertCar, modelById } from '@/lib/store/vehicles';
import { parseInput } from '../parseInput';
import type { Registry } from '../registry';

const tyrePressure = z
  .number()
  .min(100_000, 'The pressure is too low. | It is the placard’s cold pressure. | Check the unit.')
  .max(700_000, 'The pressure is too high. | It is the placard’s cold pressure. | Check the unit.')
  .optional();

/** Seventeen letters and digits without I, O and Q (ISO 3779:2009, 4.1), however grouped by marks. */
function looksLikeVin(word: string): boolean {
  const plain = word.replace(/[-./_]/g, '');
  return /^[A-HJ-NPR-Z0-9]{17}$/i.test(plain) && /\d/.test(plain);
}

export const addCarSchema = z
  .object({
    modelId: z.uuid('No model chosen. | A car is of one model. | Choose it, or add it first.'),
    name: z
      .string()
      .trim()
      .min(1, 'The car has no name. | You tell your cars apart by it. | Enter one; never a plate or a VIN.')
      .max(60, 'The name is too long. | It is shown in lists. | Use at most 60 characters.')
      .refine((name) => !name.split(/[\s:;,]+/).some(looksLikeVin), {
        message:
          'This looks like a vehicle identification number. | It identifies you for good. | Give the car a name of your own.',
      }),
    registeredMassKg: z.number().min(200).max(20_000).optional(),
    usableCapacityWh: z.number().min(1000).max(1_000_000).optional(),
    dragAreaM2: z.number().min(0.1).max(10).optional(),
    rollingCoefficient: z.number().min(0.003).max(0.05).optional(),
    ownValuesSource: z.string().trim().max(300).optional(),
    placardFrontPa: tyrePressure,
    placardRearPa: tyrePressure,
  })
  .refine(
    (car) =>
      (car.dragAreaM2 === undefined && car.rollingCoefficient === undefined) ||
      (car.ownValuesSource ?? '') !== '',
    {
      path: ['ownValuesSource'],
      message:
        'The source of the car’s own values is missing. | They replace the priors. | Say how they were measured, for example “coast-down, 3 May”.',
    },
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
        name: car.name,
        registeredMassKg: car.registeredMassKg ?? null,
        usableCapacityWh: car.usableCapacityWh ?? null,
        dragAreaM2: car.dragAreaM2 ?? null,
        rollingCoefficient: car.rollingCoefficient ?? null,
        ownValuesSource: car.ownValuesSource ?? null,
        placardFrontPa: car.placardFrontPa ?? null,
        placardRearPa: car.placardRearPa ?? null,
        isDemo: registry.isDemo || actor.isDemo === true || model.isDemo,
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
    throw new InvalidInput([
      {
        path: 'name',
        what: 'You have a car of this name already.',
        why: 'You tell your cars apart by their names.',
        fix: 'Choose another name.',
      },
    ]);
  }
}
