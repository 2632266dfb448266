import { type CruiseClass, cruiseClassByKey, isWithinPostedLimit } from '@/lib/run/cruiseClass';
import { type InputIssue, InvalidInput } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
import type { RunRecord } from '@/lib/run/runRecord';
import { RECORD, type WorldKey, worldWords } from '@/lib/run/world';
import type { ReductionSubjects } from '@/lib/store/reductionSubjects';

/** What a record names, all there. */
export type Subjects = { [Name in keyof ReductionSubjects]: NonNullable<ReductionSubjects[Name]> } & {
  cruiseClass: CruiseClass;
};

/** The ids of a form are only text until here: the car must be the actor's own and the setup of its model. */
export function requireSubjects(
  subjects: ReductionSubjects,
  record: RunRecord,
  actor: Actor,
  testerWorld: WorldKey,
): Subjects {
  const issues: InputIssue[] = [];
  const { car, setup, loop } = subjects;
  if (car === null || car.ownerId !== actor.accountId) {
    issues.push({
      path: 'carId',
      what: 'This car is not one of yours.',
      why: 'A run is recorded by the owner of the car.',
      fix: 'Choose one of your cars.',
    });
  }
  if (setup === null || (car !== null && setup.modelId !== car.modelId)) {
    issues.push({
      path: 'setupId',
      what: 'This setup does not belong to the car’s model.',
      why: 'Each model has its own setups.',
      fix: 'Choose a setup of this car.',
    });
  }
  if (loop === null) {
    issues.push({
      path: 'loopId',
      what: 'This loop does not exist.',
      why: 'Runs are only comparable on a known route.',
      fix: 'Choose a loop, or add it first.',
    });
  }
  if (loop !== null && testerWorld !== RECORD && loop.world !== testerWorld) {
    issues.push({
      path: 'loopId',
      what: `This loop is not one of ${worldWords(testerWorld)}.`,
      why: 'What a demo account records must not stand among real runs.',
      fix: 'Choose a demo loop, or sign in with an account of your own.',
    });
  }
  const cruiseClass = cruiseClassByKey(record.cruiseClassKey);
  if (loop !== null && cruiseClass !== undefined && !isWithinPostedLimit(cruiseClass, loop.postedLimitMps)) {
    issues.push({
      path: 'cruiseClassKey',
      what: `${cruiseClass.label} is above the posted limit of this loop.`,
      why: 'Posted limits and local law come first; such runs are not accepted.',
      fix: 'Choose a class at or below the limit.',
    });
  }
  if (issues.length > 0 || car === null || setup === null || loop === null || cruiseClass === undefined) {
    throw new InvalidInput(issues);
  }
  return { car, setup, loop, cruiseClass };
}
