import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { NotFound } from '@/lib/run/errors';
import { midnightUtc } from '@/lib/run/localDate';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { appendAudit } from '@/lib/store/audit';
import { carOwner, insertCalibration, invalidateCalibrations } from '@/lib/store/cars';
import type { Registry } from '../registry';

export const addCalibrationSchema = z.object({
  carId: z.uuid(),
  instrument: z.enum(['speedometer', 'odometer']),
  factor: z
    .number()
    .min(0.7, 'The factor is too small. | It is true over shown. | A display of 71 at a true 70 gives 0.986.')
    .max(
      1.3,
      'The factor is too large. | It is true over shown. | A display of 71 at a true 70 gives 0.986.',
    ),
  standardUncertainty: z
    .number()
    .positive('The uncertainty must be above zero. | No instrument is exact. | Enter for example 0.003.')
    .max(
      0.1,
      'The uncertainty is too large. | Such a calibration says nothing. | Repeat it over a longer stretch.',
    ),
  method: z.string().trim().min(1).max(200),
  measuredOn: z.iso.date('This is not a date. | A calibration ages. | Enter it as year-month-day.'),
  odometerM: z.number().min(0).max(3e9).optional(),
  note: z.string().trim().max(500).optional(),
});

/** Keeps a calibration of a car's speedometer or odometer: true = factor × shown. */
export async function addCalibration(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<{ calibrationId: string }> {
  const calibration = parseInput(addCalibrationSchema, input);
  return registry.db.$transaction(async (tx) => {
    const car = await carOwner(tx, calibration.carId);
    if (car === null) throw new NotFound('This car does not exist.');
    authorise(actor, 'editCar', car.ownerId);
    const now = registry.now();
    const inserted = await insertCalibration(tx, {
      carId: calibration.carId,
      instrument: calibration.instrument,
      factor: calibration.factor,
      standardUncertainty: calibration.standardUncertainty,
      method: calibration.method,
      measuredOn: midnightUtc(calibration.measuredOn),
      odometerM: calibration.odometerM ?? null,
      note: calibration.note ?? null,
      createdAt: now,
    });
    await appendAudit(tx, {
      at: now,
      actorId: actor.accountId,
      action: 'car.calibrate',
      subjectKind: 'car',
      subjectId: calibration.carId,
      details: { instrument: calibration.instrument, factor: calibration.factor },
    });
    return { calibrationId: inserted.id };
  });
}

export const changeTyresSchema = z.object({
  carId: z.uuid(),
  changedOn: z.iso.date('This is not a date. | Calibrations end on it. | Enter it as year-month-day.'),
});

/** Other tyres roll a different distance per turn: the car's calibrations end on that day. */
export async function changeTyres(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<{ ended: number }> {
  const { carId, changedOn } = parseInput(changeTyresSchema, input);
  return registry.db.$transaction(async (tx) => {
    const car = await carOwner(tx, carId);
    if (car === null) throw new NotFound('This car does not exist.');
    authorise(actor, 'editCar', car.ownerId);
    const ended = await invalidateCalibrations(
      tx,
      { carId, instruments: ['speedometer', 'odometer'] },
      midnightUtc(changedOn),
      'tyres changed',
    );
    await appendAudit(tx, {
      at: registry.now(),
      actorId: actor.accountId,
      action: 'car.changeTyres',
      subjectKind: 'car',
      subjectId: carId,
      details: { changedOn, ended },
    });
    return { ended };
  });
}
