import type { DisplayScale } from '@/lib/physics/displayScale';
import { carDisplayScale } from '@/lib/reduction/carDisplay';
import type { WorldKey } from '@/lib/run/world';
import { energiesOfCar } from '@/lib/store/cars';
import type { Queryable } from '@/lib/store/database';
import { shownLabel } from '../counted/countedLabel';

/** More would tell nothing: what then limits is the conversion, which is the same in all of them. */
const NEWEST_RUNS = 60;

/** What a car's approved runs say of the scale of its energy display; null while they say nothing. */
export async function displayOfCar(
  db: Queryable,
  { carId, world }: { carId: string; world: WorldKey },
): Promise<DisplayScale | null> {
  return carDisplayScale(await energiesOfCar(db, carId, await shownLabel(db, world), NEWEST_RUNS));
}
