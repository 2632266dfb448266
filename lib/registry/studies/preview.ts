import { authorise } from '@/lib/access/authorise';
import { NotAllowed, NotFound } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
import { drivesIn, studyBySlug } from '@/lib/store/studies';
import { waitingResults } from '@/lib/store/studyRuns';
import { type DayDifference, dayDifferences } from '@/lib/study/dayDifference';
import type { StudyPlan } from '@/lib/study/plan';
import { type CountedStudyRun, type StudyStanding, standingOf } from '@/lib/study/standing';
import type { Registry } from '../registry';
import { numbersOfStudy, readStudy, type StudyView, studied } from './study';

/** A study as one who drives in it sees it at the charger: what counts, and their own runs that nobody has reviewed. */
export interface StudyPreview {
  view: StudyView;
  plan: StudyPlan;
  standing: StudyStanding;
  days: DayDifference[];
  /** Runs that count, and those of the tester's own that wait and have a number. */
  runs: { counted: number; waiting: number };
  /** Numbers of the tester's own that wait without one: outside the method's reach. */
  without: number[];
}

/**
 * Worked out for each request and stored nowhere: nothing that waits counts. Runs of others that wait are their testers'
 * and their reviewer's alone, and so is this page its reader's alone: reviewers keep out of it as of any study that they
 * do not drive in, so that they read no result before they decide.
 */
export async function readStudyPreview(
  registry: Registry,
  actor: Actor | undefined,
  slug: string,
): Promise<StudyPreview> {
  authorise(actor, 'recordRun');
  const { db } = registry;
  const view = await readStudy(registry, actor, slug);
  const study = view && (await studyBySlug(db, slug));
  if (view?.plan === undefined || study == null) throw new NotFound('This study does not exist.');
  if (!(await drivesIn(db, study.id, actor.accountId)))
    throw new NotAllowed('Only those who drive in a study see it before its runs are reviewed.', true);
  const { plan } = view;
  const numbers = await numbersOfStudy(registry, study);
  const results = await waitingResults(db, study.id, actor.accountId, numbers.methodVersion);
  const now = registry.now().toISOString();
  const own = numbers.stored.flatMap((run) => {
    const of = studied(run, numbers.plannedAt);
    return results.has(run.id) && of !== undefined && !of.isBeforePlan ? [{ run, of }] : [];
  });
  const waiting = own.flatMap(({ run, of }): CountedStudyRun[] => {
    const result = results.get(run.id);
    if (result == null || run.carId === null) return [];
    return [{ ...of, ...result, countedAt: now, carId: run.carId, testerId: run.testerId }];
  });
  const runs = [...numbers.counted, ...waiting];
  const unexplainedVariance = numbers.spread.unexplained;
  return {
    view,
    plan,
    // Whoever looks before the end looks as often as they like.
    standing: standingOf({
      plan,
      state: 'running',
      versions: view.versions.length,
      runs,
      unexplainedVariance,
    }),
    days: dayDifferences(plan, runs, unexplainedVariance),
    runs: { counted: numbers.counted.length, waiting: waiting.length },
    without: own.flatMap(({ run }) => (results.get(run.id) === null ? [run.number] : [])),
  };
}
