import type { RecordFormView } from '@/lib/registry/runs/recordForm';
import { dayOfClock } from '@/lib/run/localDate';
import type { RunForm } from '@/lib/run/runForm';
import { nextToDrive, runWords, studyOf } from '@/lib/study/nextToDrive';
import { StudyPlace } from '../StudyPlace';

/** Where the run stands in the plan of the tester's open study, by what is typed; nothing where it is of none. */
export function PlaceOfRun({ view, now }: { view: RecordFormView; now: RunForm }) {
  const study = studyOf(view.studies, { ...now, begunForStudyId: view.begunForStudyId });
  if (study === undefined) return null;
  // Those that were begun before this one: a run has its place whatever was noted since.
  const before = { ...study, runs: study.runs.filter(({ number }) => number < view.number) };
  const next = nextToDrive(before, {
    day: dayOfClock(now.startedAtLocal || view.now),
    carId: now.carId ?? '',
    runs: [],
  });
  return <StudyPlace study={study} words={runWords(study, next, now.setupId)} />;
}
