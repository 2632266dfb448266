import { authorise } from '@/lib/access/authorise';
import { CRUISE_CLASSES } from '@/lib/run/cruiseClass';
import type { Actor } from '@/lib/run/roles';
import { RECORD, type WorldKey } from '@/lib/run/world';
import { currentGroups } from '@/lib/store/fits';
import { carsInUse } from '@/lib/store/openPairs';
import type { Registry } from '../registry';
import { type DayWorthDriving, readWorthMost } from './worthMost';

const MOST_CARS = 20;

export interface WorthForMe {
  worth: DayWorthDriving;
  world: WorldKey;
  car: string;
}

/**
 * The day that would teach most for an hour with a car of one's own on a loop that it drove, over all classes;
 * undefined where no such day is known.
 */
export async function readWorthForMe(
  registry: Registry,
  actor: Actor | undefined,
): Promise<WorthForMe | undefined> {
  authorise(actor, 'recordRun');
  const { db } = registry;
  const world = actor.world ?? RECORD;
  const [cars, groups] = await Promise.all([carsInUse(db, actor.accountId, MOST_CARS), currentGroups(db)]);
  if (cars.length === 0) return undefined;
  const classes = CRUISE_CLASSES.filter(({ key }) =>
    groups.some(({ group }) => group.world === world && group.cruiseClass.key === key),
  );
  const found = await Promise.all(
    classes.map(({ key }) =>
      readWorthMost(registry, { group: { cruiseClassKey: key, world }, cars, take: 1 }),
    ),
  );
  const [best] = found.flat().toSorted((a, b) => b.gainPerHour - a.gainPerHour);
  const car = cars.find(({ id }) => id === best?.carId);
  return best === undefined || car === undefined ? undefined : { worth: best, world, car: car.name };
}
