import type { ReconciledEnergy } from '@/lib/physics/reconcile';
import { readEnergy } from '@/lib/reduction/stored';
import { readDisplayUnits } from '@/lib/run/stored';
import type { Queryable } from './database';

/** The cars that a tester records with, each with the setups of its model and the units of its display. */
export async function carsForForm(db: Queryable, ownerId: string) {
  const cars = await db.car.findMany({
    where: { ownerId, retiredAt: null },
    orderBy: { name: 'asc' },
    select: {
      id: true,
      name: true,
      usableCapacityWh: true,
      placardFrontPa: true,
      placardRearPa: true,
      displayUnits: true,
      model: {
        select: {
          id: true,
          name: true,
          modelYear: true,
          variant: true,
          usableCapacityWh: true,
          maker: { select: { name: true } },
          setups: { orderBy: { title: 'asc' }, select: { id: true, title: true } },
        },
      },
    },
  });
  return cars.map((car) => ({ ...car, displayUnits: readDisplayUnits(car.displayUnits) }));
}

/** One car of a tester with its calibrations. */
export function carWithCalibrations(db: Queryable, carId: string) {
  return db.car.findUnique({
    where: { id: carId },
    select: {
      id: true,
      ownerId: true,
      name: true,
      registeredMassKg: true,
      usableCapacityWh: true,
      dragAreaM2: true,
      rollingCoefficient: true,
      coastDownF0N: true,
      coastDownF1NPerKmh: true,
      coastDownF2NPerKmh2: true,
      ownValuesSource: true,
      placardFrontPa: true,
      placardRearPa: true,
      world: true,
      model: {
        select: {
          id: true,
          slug: true,
          name: true,
          modelYear: true,
          variant: true,
          kerbMassKg: true,
          usableCapacityWh: true,
          maker: { select: { name: true } },
        },
      },
      calibrations: {
        orderBy: { measuredOn: 'desc' },
        select: {
          id: true,
          instrument: true,
          factor: true,
          standardUncertainty: true,
          method: true,
          measuredOn: true,
          odometerM: true,
          note: true,
          invalidatedOn: true,
          invalidatedReason: true,
        },
      },
    },
  });
}

/** The energies of a car's newest runs that count under one version, as far as they can be read. */
export async function energiesOfCar(
  db: Queryable,
  carId: string,
  methodVersion: string,
  take: number,
): Promise<ReconciledEnergy[]> {
  const rows = await db.$queryRaw<{ energy: unknown }[]>`
    SELECT result."result"->'energy' AS "energy"
    FROM (
      SELECT "runId", "methodVersion", "number" FROM "CountedRun"
      WHERE "carId" = ${carId}::uuid AND "methodVersion" = ${methodVersion} AND "measuredWhPerKm" IS NOT NULL
      ORDER BY "number" DESC
      LIMIT ${take}
    ) newest
    JOIN "Run" run ON run."id" = newest."runId"
    JOIN "RunRevision" revision ON revision."runId" = run."id" AND revision."number" = run."approvedRevision"
    JOIN "Normalisation" result
      ON result."revisionId" = revision."id" AND result."methodVersion" = newest."methodVersion"
    ORDER BY newest."number" DESC`;
  return rows.flatMap(({ energy }) => readEnergy(energy) ?? []);
}
