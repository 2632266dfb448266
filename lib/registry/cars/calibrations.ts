import { isDeepStrictEqual } from 'node:util';
import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import type { CalibrationChange, KeptCalibration } from '@/lib/reduction/corrections/change';
import { NotFound } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { worldKey } from '@/lib/run/world';
import { carOwner } from '@/lib/store/cars';
import { calibrationsOf, lockSubject } from '@/lib/store/correctedSubjects';
import type { Queryable } from '@/lib/store/database';
import { type Proposed, propose } from '../corrections/propose';
import { correctionReason, oneAtATime } from '../corrections/reason';
import type { Registry } from '../registry';

const calibrationValues = {
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
};

export const addCalibrationSchema = z.object({ carId: z.uuid(), ...calibrationValues });

type Values = z.output<typeof addCalibrationSchema>;

/**
 * Keeps a calibration of a car's speedometer or odometer: true = factor × shown. One from before runs that count or wait
 * is a correction of theirs, and holds once that is approved.
 */
export async function addCalibration(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<Proposed> {
  const { carId, ...values } = parseInput(addCalibrationSchema, input);
  const { instrument, factor, measuredOn } = values;
  return changeCalibrations(registry, actor, carId, () => ({
    changes: [{ id: null, before: null, after: keptOf(values) }],
    reason: `A calibration of the ${instrument} of ${measuredOn} was added.`,
    act: { action: 'car.calibrate', details: { instrument, factor } },
  }));
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
): Promise<Proposed> {
  const { carId, changedOn } = parseInput(changeTyresSchema, input);
  return changeCalibrations(registry, actor, carId, (known) => {
    const ending = known.filter(({ calibration }) => calibration.invalidatedOn === null);
    return {
      changes: ending.map(({ id, calibration }) => ({
        id,
        before: calibration,
        after: { ...calibration, invalidatedOn: changedOn, invalidatedReason: 'tyres changed' },
      })),
      reason: `The tyres were changed on ${changedOn}, which ends the calibrations.`,
      act: { action: 'car.changeTyres', details: { changedOn, ended: ending.length } },
    };
  });
}

export const correctCalibrationSchema = z.object({
  carId: z.uuid(),
  calibrationId: z.uuid(),
  reason: correctionReason,
  ...calibrationValues,
});

/** Puts right a calibration that was entered wrongly. */
export async function correctCalibration(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<Proposed> {
  const { carId, calibrationId, reason, ...values } = parseInput(correctCalibrationSchema, input);
  return changeCalibrations(registry, actor, carId, (known) => {
    const before = foundIn(known, calibrationId);
    const { invalidatedOn, invalidatedReason } = before;
    const after = { ...keptOf(values), invalidatedOn, invalidatedReason };
    const isSame = isDeepStrictEqual(after, before);
    return {
      changes: isSame ? [] : [{ id: calibrationId, before, after }],
      reason,
      act: {
        action: 'car.correctCalibration',
        details: { factor: { before: before.factor, after: after.factor } },
      },
    };
  });
}

export const takeBackCalibrationSchema = z.object({
  carId: z.uuid(),
  calibrationId: z.uuid(),
  reason: correctionReason,
});

/** Takes back a calibration that never held. */
export async function takeBackCalibration(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<Proposed> {
  const { carId, calibrationId, reason } = parseInput(takeBackCalibrationSchema, input);
  return changeCalibrations(registry, actor, carId, (known) => {
    const before = foundIn(known, calibrationId);
    return {
      changes: [{ id: calibrationId, before, after: null }],
      reason,
      act: { action: 'car.takeBackCalibration', details: { ...before } },
    };
  });
}

type Known = Awaited<ReturnType<typeof calibrationsOf>>;

interface Wanted {
  changes: CalibrationChange[];
  reason: string;
  act: {
    action: string;
    details: Record<string, string | number | null | { before: number; after: number }>;
  };
}

async function changeCalibrations(
  registry: Registry,
  actor: Actor | undefined,
  carId: string,
  wantedOf: (known: Known) => Wanted,
): Promise<Proposed> {
  try {
    return await registry.db.$transaction((tx) => change(tx, actor, { carId, wantedOf, at: registry.now() }));
  } catch (error) {
    oneAtATime(error);
    throw error;
  }
}

async function change(
  tx: Queryable,
  actor: Actor | undefined,
  { carId, wantedOf, at }: { carId: string; wantedOf: (known: Known) => Wanted; at: Date },
): Promise<Proposed> {
  await lockSubject(tx, 'calibrations', carId);
  const car = await carOwner(tx, carId);
  if (car === null) throw new NotFound('This car does not exist.');
  authorise(actor, 'editCar', car.ownerId);
  const { changes, reason, act } = wantedOf(await calibrationsOf(tx, carId));
  return propose(
    tx,
    {
      subjectId: carId,
      world: worldKey(car.world),
      change: { kind: 'calibrations', changes },
      reason,
      byId: actor.accountId,
      act: { ...act, subjectKind: 'car' },
    },
    at,
  );
}

function foundIn(known: Known, id: string): KeptCalibration {
  const found = known.find((each) => each.id === id);
  if (found === undefined) throw new NotFound('This calibration does not exist.');
  return found.calibration;
}

/** As it is kept, in the order in which the store names its parts. */
function keptOf(values: Omit<Values, 'carId'>): KeptCalibration {
  return {
    instrument: values.instrument,
    factor: values.factor,
    standardUncertainty: values.standardUncertainty,
    method: values.method,
    odometerM: values.odometerM ?? null,
    note: values.note || null,
    invalidatedReason: null,
    measuredOn: values.measuredOn,
    invalidatedOn: null,
  };
}
