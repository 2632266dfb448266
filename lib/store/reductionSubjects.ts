import { OWN_VALUES } from './cars';
import type { Queryable } from './database';
import { DATA_SHEET } from './names';

/**
 * Car, setup, loop and calibration facts that the reduction of one run needs. The directions are as stored: the snapshot
 * that is made of all this reads them, and refuses a run whose loop's cannot be read.
 */
export async function reductionSubjects(
  db: Queryable,
  ids: { carId: string; setupId: string; loopId: string },
) {
  const [car, setup, loop] = await Promise.all([
    db.car.findUnique({
      where: { id: ids.carId },
      select: {
        id: true,
        ownerId: true,
        modelId: true,
        world: true,
        // Merged a moment ago, it is another one: whoever is about to send a run in with it looks again.
        mergedIntoId: true,
        ...OWN_VALUES,
        model: {
          select: {
            id: true,
            ...DATA_SHEET,
            levels: { where: { factor: 'wheelTyre', isBaseline: true }, select: { tyreKind: true } },
          },
        },
        calibrations: {
          orderBy: { id: 'asc' },
          select: {
            instrument: true,
            factor: true,
            standardUncertainty: true,
            method: true,
            measuredOn: true,
            odometerM: true,
            invalidatedOn: true,
            invalidatedReason: true,
          },
        },
      },
    }),
    db.setup.findUnique({
      where: { id: ids.setupId },
      select: {
        id: true,
        modelId: true,
        world: true,
        mergedIntoId: true,
        levels: {
          orderBy: { factor: 'asc' },
          select: { factor: true, level: { select: { id: true, isBaseline: true, tyreKind: true } } },
        },
      },
    }),
    db.loop.findUnique({
      where: { id: ids.loopId },
      select: {
        id: true,
        name: true,
        world: true,
        mergedIntoId: true,
        lengthM: true,
        lengthUncertaintyM: true,
        altitudeM: true,
        netClimbM: true,
        closureDistanceM: true,
        closureHeightM: true,
        sharedRouteShare: true,
        offCruiseShare: true,
        postedLimitMps: true,
        bearings: true,
        legs: {
          orderBy: { direction: 'asc' },
          select: { direction: true, lengthM: true, netClimbM: true, bearings: true },
        },
      },
    }),
  ]);
  return { car, setup, loop };
}

export type ReductionSubjects = Awaited<ReturnType<typeof reductionSubjects>>;
