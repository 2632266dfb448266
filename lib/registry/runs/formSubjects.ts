import { CRUISE_CLASSES, isWithinPostedLimit } from '@/lib/run/cruiseClass';
import { rememberedUnits, type UnitChoice } from '@/lib/run/displayUnits';
import { modelWords } from '@/lib/run/modelWords';
import { accountById } from '@/lib/store/accounts';
import { carsForForm } from '@/lib/store/cars';
import { latestForms } from '@/lib/store/drafts';
import { loopsForForm } from '@/lib/store/loops';
import { preferencesFrom } from '@/lib/units/displaySchema';
import { showQuantity } from '@/lib/units/show';
import type { Registry } from '../registry';

export interface FormCar {
  id: string;
  name: string;
  modelId: string;
  model: string;
  usableCapacityWh: number | undefined;
  placardFrontPa: number | undefined;
  placardRearPa: number | undefined;
  /** Unit of each quantity on this car's display, where known. */
  units: UnitChoice;
  setups: { id: string; title: string }[];
}

export interface FormLoop {
  id: string;
  name: string;
  region: string;
  length: string;
  postedLimit: string;
  /** Cruise classes within the posted limit. */
  cruiseClassKeys: string[];
}

export interface FormSubjects {
  cars: FormCar[];
  loops: FormLoop[];
  /** Units to offer first where the car says nothing. */
  units: UnitChoice;
}

/** What a tester's run can be of: cars with their setups and units, loops with the classes that they allow. */
export async function formSubjects(
  registry: Registry,
  accountId: string,
  exceptRunId?: string,
): Promise<FormSubjects> {
  const [cars, loops, forms, account] = await Promise.all([
    carsForForm(registry.db, accountId),
    loopsForForm(registry.db),
    latestForms(registry.db, accountId, exceptRunId),
    accountById(registry.db, accountId),
  ]);
  const display = preferencesFrom(account?.display);
  const remembered = rememberedUnits(forms, display);
  return {
    cars: cars.map((car) => ({
      id: car.id,
      name: car.name,
      modelId: car.model.id,
      model: modelWords(car.model),
      usableCapacityWh: car.usableCapacityWh ?? car.model.usableCapacityWh ?? undefined,
      placardFrontPa: car.placardFrontPa ?? undefined,
      placardRearPa: car.placardRearPa ?? undefined,
      units: { ...remembered.byCar.get(car.id), ...car.displayUnits },
      setups: car.model.setups,
    })),
    loops: loops.map((loop) => ({
      id: loop.id,
      name: loop.name,
      region: loop.region,
      length: showQuantity(loop.lengthM, 'distance', display, { decimals: 1 }),
      postedLimit: showQuantity(loop.postedLimitMps, 'speed', display, { decimals: 0 }),
      cruiseClassKeys: CRUISE_CLASSES.filter((one) => isWithinPostedLimit(one, loop.postedLimitMps)).map(
        (one) => one.key,
      ),
    })),
    units: remembered.last,
  };
}
