import { readStepLogs } from '@/lib/reduction/stepLogs';
import type { OtherWays } from '@/lib/stats/otherWays/way';
import { studyBySlug } from '@/lib/store/studies';
import { stepsOfRuns } from '@/lib/store/studyRuns';
import { type StudyWayRun, studyWays } from '@/lib/study/studyWays';
import type { Registry } from '../registry';
import { numbersOfStudy, type StudyView } from './study';

/** What the method's choices do to each difference of a study that has a number, by the id of its setup. */
export async function readStudyWays(
  registry: Registry,
  { slug, plan, standing }: Pick<StudyView, 'slug' | 'plan' | 'standing'>,
): Promise<ReadonlyMap<string, OtherWays>> {
  const shown = standing?.contrasts.filter((contrast) => contrast.shown !== null) ?? [];
  const study = shown.length === 0 ? null : await studyBySlug(registry.db, slug);
  if (plan === undefined || standing === null || study === null) return new Map();
  const { counted, stored, spread, methodVersion } = await numbersOfStudy(registry, study);
  const idOf = new Map(stored.map(({ number, id }) => [number, id]));
  const steps = await stepsOfRuns(registry.db, [...idOf.values()], methodVersion);
  const runs = counted.flatMap((run): StudyWayRun[] => {
    const found = steps.get(idOf.get(run.number) ?? '');
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
  const asked = { plan, runs, unexplainedVariance: spread.unexplained };
  return new Map(shown.map(({ setupId }) => [setupId, studyWays(asked, setupId, standing.which)]));
}
