import type { StudyNumbers } from '@/lib/answers/studyParagraph';
import type { StudyView } from '@/lib/registry/studies/study';
import type { StudyPlan } from '@/lib/study/plan';
import type { StudyStanding } from '@/lib/study/standing';

/** What the paragraph of a study is made from. */
export function paragraphNumbers(view: StudyView, plan: StudyPlan, standing: StudyStanding): StudyNumbers {
  const runs = view.sessions.flatMap((session) => session.runs);
  return {
    standing,
    titles: new Map(view.setups.map(({ id, title }) => [id, title])),
    baselineTitle: view.setups[0]?.title ?? '',
    planned: { runs: plan.days.reduce((sum, day) => sum + day.length, 0), days: plan.days.length },
    counted: countedOf(view),
    deviating: runs.filter(({ run, deviations }) => deviations.length > 0 || run.wasChosen).length,
    waiting: view.counts.waiting,
    loopName: view.loop.name,
    classLabel: view.classLabel,
  };
}

/** The runs that count, and the days that have any. */
export function countedOf({ sessions, counts }: StudyView): { runs: number; days: number } {
  const days = sessions.filter(({ runs }) => runs.some(({ run }) => run.standing === 'counts'));
  return { runs: counts.counted, days: days.length };
}
