import { z } from 'zod';
import type { InputIssue } from '@/lib/run/errors';
import { nameField } from '@/lib/run/names/publicName';
import { CAPACITY_U_WH } from './chargingBounds';
import { usableCapacity } from './chargingSheet';

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

/** What a car's owner says of it, when it is added and when it is changed. */
export const carValues = {
  name: nameField({
    least: 1,
    most: 60,
    tooShort: 'The car has no name. | You tell your cars apart by it. | Enter one; never a plate or a VIN.',
    tooLong: 'The name is too long. | It is shown in lists. | Use at most 60 characters.',
  }).refine((name) => !name.split(/[\s:;,]+/).some(looksLikeVin), {
    message:
      'This looks like a vehicle identification number. | It identifies you for good. | Give the car a name of your own.',
  }),
  registeredMassKg: z.number().min(200).max(20_000).optional(),
  usableCapacityWh: usableCapacity.optional(),
  usableCapacityUWh: z.number().min(CAPACITY_U_WH[0]).max(CAPACITY_U_WH[1]).optional(),
  dragAreaM2: z.number().min(0.1).max(10).optional(),
  rollingCoefficient: z.number().min(0.003).max(0.05).optional(),
  coastDownF0N: z.number().min(0).max(5000).optional(),
  coastDownF1NPerKmh: z.number().min(-20).max(20).optional(),
  coastDownF2NPerKmh2: z.number().min(0.005).max(0.5).optional(),
  ownValuesSource: z.string().trim().max(300).optional(),
  placardFrontPa: tyrePressure,
  placardRearPa: tyrePressure,
};

type Values = z.output<z.ZodObject<typeof carValues>>;

const COAST_DOWN = ['coastDownF0N', 'coastDownF1NPerKmh', 'coastDownF2NPerKmh2'] as const;
const COEFFICIENT = { coastDownF0N: 'f0', coastDownF1NPerKmh: 'f1', coastDownF2NPerKmh2: 'f2' } as const;
const REPLACED = ['dragAreaM2', 'rollingCoefficient'] as const;

/** Adds what one value asks of another: the coast-down is whole, stands alone, and what was measured names its source. */
export function withSoundOwnValues<Output extends Values>(schema: z.ZodType<Output>): z.ZodType<Output> {
  return schema.superRefine((car, context) => {
    const complain = (path: string, message: string) =>
      context.addIssue({ code: 'custom', path: [path], message });
    const given = COAST_DOWN.filter((name) => car[name] !== undefined);
    if (given.length > 0 && given.length < COAST_DOWN.length) {
      for (const name of COAST_DOWN) {
        if (car[name] !== undefined) continue;
        complain(
          name,
          `Coefficient ${COEFFICIENT[name]} of the coast-down is missing. | The three are one fit and mean nothing apart. | Enter all of f0, f1 and f2, or none.`,
        );
      }
    }
    const replaced = REPLACED.filter((name) => car[name] !== undefined);
    if (given.length > 0) {
      for (const name of replaced) {
        complain(
          name,
          'The coast-down gives this value already. | One of the two would be ignored. | Leave this empty, or leave the coast-down out.',
        );
      }
    }
    const isMeasured = car.usableCapacityUWh !== undefined;
    if (isMeasured && car.usableCapacityWh === undefined) {
      complain(
        'usableCapacityWh',
        'The capacity itself is missing. | You say how far off it may be. | Enter the capacity that you measured, or leave both out.',
      );
    }
    if ((given.length + replaced.length > 0 || isMeasured) && (car.ownValuesSource ?? '') === '') {
      complain(
        'ownValuesSource',
        'The source of the car’s own values is missing. | They take the place of assumed ones. | Say how they were measured, for example “coast-down, 3 May”.',
      );
    }
  });
}

/** What a car's owner enters and may change. */
export interface CarValues {
  name: string;
  registeredMassKg: number | null;
  usableCapacityWh: number | null;
  usableCapacityUWh: number | null;
  dragAreaM2: number | null;
  rollingCoefficient: number | null;
  coastDownF0N: number | null;
  coastDownF1NPerKmh: number | null;
  coastDownF2NPerKmh2: number | null;
  ownValuesSource: string | null;
  placardFrontPa: number | null;
  placardRearPa: number | null;
}

/** As the store keeps them: what was left empty is null. */
export function carColumns(car: Values): CarValues {
  return {
    name: car.name,
    registeredMassKg: car.registeredMassKg ?? null,
    usableCapacityWh: car.usableCapacityWh ?? null,
    usableCapacityUWh: car.usableCapacityUWh ?? null,
    dragAreaM2: car.dragAreaM2 ?? null,
    rollingCoefficient: car.rollingCoefficient ?? null,
    coastDownF0N: car.coastDownF0N ?? null,
    coastDownF1NPerKmh: car.coastDownF1NPerKmh ?? null,
    coastDownF2NPerKmh2: car.coastDownF2NPerKmh2 ?? null,
    ownValuesSource: car.ownValuesSource || null,
    placardFrontPa: car.placardFrontPa ?? null,
    placardRearPa: car.placardRearPa ?? null,
  };
}

export const CAR_NAME_TAKEN: InputIssue = {
  path: 'name',
  what: 'You have a car of this name already.',
  why: 'You tell your cars apart by their names.',
  fix: 'Choose another name.',
};
