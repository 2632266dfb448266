import { readStepLogs } from '@/lib/reduction/stepLogs';
import type { OtherWays } from '@/lib/stats/otherWays/way';
import { stepsOfRuns } from '@/lib/store/studyRuns';
import { type StudyWayRun, studyWays } from '@/lib/study/studyWays';
import type { Registry } from '../registry';
import type { StudyView } from './study';

/** What the method's choices do to each difference of a study that has a number, by the id of its setup. */
export async function readStudyWays(
  registry: Registry,
  { plan, standing, basis, methodVersion }: Pick<StudyView, 'plan' | 'standing' | 'basis' | 'methodVersion'>,
): Promise<ReadonlyMap<string, OtherWays>> {
  const shown = standing?.contrasts.filter((contrast) => contrast.shown !== null) ?? [];
  if (plan === undefined || standing === null || shown.length === 0) return new Map();
  const { counted, runIds, unexplainedVariance } = basis;
  const idsOfCounted = counted.flatMap(({ number }) => runIds.get(number) ?? []);
  const steps = await stepsOfRuns(registry.db, idsOfCounted, methodVersion);
  const runs = counted.flatMap((run): StudyWayRun[] => {
    const found = steps.get(runIds.get(run.number) ?? '');
    if (found === undefined) return [];
    const { measuredWhPerKm, isRetrospective, traffic } = found;
    const logs = readStepLogs(found.steps);
    return [
      {
        ...run,
        measuredZ: measuredWhPerKm === null ? null : Math.log(measuredWhPerKm),
        windLog: logs?.windLog ?? null,
        airLog: logs?.airLog ?? null,
        isRetrospective,
        traffic,
      },
    ];
  });
  const asked = { plan, runs, unexplainedVariance };
  return new Map(shown.map(({ setupId }) => [setupId, studyWays(asked, setupId, standing.which)]));
}
