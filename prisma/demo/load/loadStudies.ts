import type { Registry } from '@/lib/registry/registry';
import { guessStudy } from '@/lib/registry/studies/guesses';
import { abandonStudy, beginStudy, completeStudy, joinStudy } from '@/lib/registry/studies/moveStudy';
import { planStudy } from '@/lib/registry/studies/planStudy';
import { PLAN_DEFAULTS, type PlanForm, setupFieldName } from '@/lib/study/planForm';
import type { DemoStudy, DemoWorld } from '../world/types';
import type { DemoStudyEvent } from './events';
import { type FleetIds, found } from './loadFleet';
import type { People } from './loadPeople';
import { registryAt } from './simulatedTime';

export interface StudyParts {
  people: People;
  fleet: FleetIds;
  world: Pick<DemoWorld, 'cars'>;
  /** By key, as requests were made. */
  requestIds: ReadonlyMap<string, string>;
  /** By key, filled as studies are planned. */
  studyIds: Map<string, string>;
}

/** Lets the people of the demo world plan, begin, join, end and guess at studies, each at its own time. */
export async function playStudyEvent(
  registry: Registry,
  { people, fleet, world, requestIds, studyIds }: StudyParts,
  event: DemoStudyEvent,
): Promise<void> {
  const { study } = event;
  const then = registryAt(registry, event.at);
  const owner = found(people, world.cars.find(({ key }) => key === study.carKey)?.ownerKey ?? '');
  if (event.kind === 'plan') {
    const { studyId } = await planStudy(then, owner, {
      carId: found(fleet.cars, study.carKey),
      loopId: found(fleet.loops, study.loopKey),
      cruiseClassKey: study.cruiseClassKey,
      question: study.question,
      form: planFormOf(study, fleet),
      seed: study.seed,
      ...(study.requestKey === undefined ? {} : { requestId: found(requestIds, study.requestKey) }),
    });
    studyIds.set(study.key, studyId);
    return;
  }
  const studyId = found(studyIds, study.key);
  switch (event.kind) {
    case 'begin':
      return beginStudy(then, owner, { studyId });
    case 'join':
      return joinStudy(then, found(people, event.testerKey), { studyId });
    case 'guess': {
      const { personKey, percent } = event.guess;
      const direction = percent > 0 ? 'more' : 'less';
      const guess = { studyId, direction, size: String(Math.abs(percent)) };
      return guessStudy(then, found(people, personKey), guess);
    }
    case 'complete':
      return completeStudy(then, owner, { studyId });
    case 'abandon':
      return abandonStudy(then, owner, { studyId, reason: event.reason });
  }
}

function planFormOf(study: DemoStudy, { setups }: FleetIds): PlanForm {
  return {
    ...PLAN_DEFAULTS,
    baselineId: found(setups, study.baselineKey),
    ...Object.fromEntries(study.otherKeys.map((key) => [setupFieldName(found(setups, key)), 'yes'])),
    wantedPercent: String(study.wantedPercent),
    runsADay: String(study.runsADay),
    days: String(study.days),
  };
}
