import { z } from 'zod';
import { CRUISE_CLASSES, isWithinPostedLimit } from '@/lib/run/cruiseClass';
import { rememberedUnits, type UnitChoice } from '@/lib/run/displayUnits';
import { modelWords } from '@/lib/run/modelWords';
import type { RunForm } from '@/lib/run/runForm';
import { accountById } from '@/lib/store/accounts';
import { carsForForm } from '@/lib/store/cars';
import { latestForms } from '@/lib/store/drafts';
import { loopsForForm } from '@/lib/store/loops';
import type { StudyToDrive } from '@/lib/study/nextToDrive';
import { preferencesFrom } from '@/lib/units/displaySchema';
import { showQuantity } from '@/lib/units/show';
import type { Registry } from '../registry';
import { studiesToDrive } from '../studies/studiesToDrive';

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
  /** Those of the tester's latest drafts and their own, then others, as many as a list is readable with. */
  loops: FormLoop[];
  /** There are others, to be searched for. */
  hasMoreLoops: boolean;
  /** Units to offer first where the car says nothing. */
  units: UnitChoice;
  /** Those that the tester drives in and that are not over. */
  studies: StudyToDrive[];
}

const MOST_OFFERED = 100;

/**
 * What a tester's run can be of: cars with their setups and units, loops with the classes that they allow. The loop of
 * the run's own draft is always among them.
 */
export async function formSubjects(
  registry: Registry,
  accountId: string,
  own?: { runId?: string | undefined; form: RunForm },
): Promise<FormSubjects> {
  const [cars, forms, account, studies] = await Promise.all([
    carsForForm(registry.db, accountId),
    latestForms(registry.db, accountId, own?.runId),
    accountById(registry.db, accountId),
    studiesToDrive(registry.db, accountId),
  ]);
  const ids = [...new Set([...loopIdsOf(forms), ...studies.map(({ loopId }) => loopId)])];
  const [keptId] = loopIdsOf(own === undefined ? [] : [own.form]);
  const { loops, hasMore } = await loopsForForm(
    registry.db,
    { ids, keptId, ownerId: accountId },
    MOST_OFFERED,
  );
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
    hasMoreLoops: hasMore,
    loops: loops.sort(byName).map((loop) => ({
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
    studies,
  };
}

/** What a draft holds may be anything that was typed. */
function loopIdsOf(forms: readonly RunForm[]): string[] {
  return [...new Set(forms.flatMap(({ loopId }) => z.uuid().safeParse(loopId).data ?? []))];
}

function byName(a: { name: string }, b: { name: string }): number {
  return a.name.localeCompare(b.name, 'en');
}
