import { useEffect, useState } from 'react';
import { Button } from '@/app/ui/Button';
import type { RunForm } from '@/lib/run/runForm';
import { nextToDrive, planWords, type StudyToDrive, setupWords } from '@/lib/study/nextToDrive';
import { type FieldDay, runOfDay } from './fieldDay';
import { drivenHere, localDay } from './fieldRun';
import type { Field } from './useField';

interface PlannedRunsProps {
  field: Field;
  onOpen: (key: string) => void;
}

/** What the plans of the tester's open studies have next today, by what the phone knows: it needs no signal. */
export function PlannedRuns({ field, onOpen }: PlannedRunsProps) {
  const today = useToday();
  // Lists that a phone kept of an earlier version have none.
  const studies = field.lists?.studies ?? [];
  if (today === undefined || studies.length === 0) return null;
  return (
    <ul className="mb-6 space-y-5">
      {studies.map((study) => (
        <PlannedRun key={study.studyId} study={study} day={today} field={field} onOpen={onOpen} />
      ))}
    </ul>
  );
}

function PlannedRun({ study, day, field, onOpen }: PlannedRunsProps & { study: StudyToDrive; day: string }) {
  const carId = carOf(study, day, field);
  if (carId === undefined) return null;
  const here = drivenHere(
    field.runs.map(({ run }) => run),
    study,
    { day, carId },
  );
  const next = nextToDrive(study, here);
  const { setupId } = next;
  const begin = async (planned: string) => {
    const { loopId, cruiseClassKey } = study;
    const ofDay = await dayFor(field, day, { carId, loopId, cruiseClassKey });
    const run =
      ofDay &&
      (await field.begin((now, lists) => ({
        ...runOfDay(now, ofDay, planned, lists),
        studyId: study.studyId,
      })));
    if (run !== undefined) onOpen(run.key);
  };
  return (
    <li className="border-l-4 border-accent pl-3">
      <p className="font-semibold">{study.question}</p>
      <p className="mt-1 text-sm">{planWords(study, next)}</p>
      {setupId === null ? null : (
        <Button variant="secondary" size="field" className="mt-2" onClick={() => begin(setupId)}>
          Run {next.driven.length + 1}: {setupWords(study, setupId)}
        </Button>
      )}
      <p className="mt-1">
        <a href={`/studies/${study.slug}/preview`} className="link inline-flex min-h-12 items-center">
          What it says so far
        </a>
      </p>
    </li>
  );
}

/** The day of these things that is there already, or a new one. */
async function dayFor(field: Field, day: string, subjects: RunForm): Promise<FieldDay | undefined> {
  const isSame = ({ localDate, form }: FieldDay) =>
    localDate === day && Object.entries(subjects).every(([name, value]) => form[name] === value);
  return field.days.find(isSame) ?? field.beginDay(subjects);
}

/** The car of this day's runs where there are any, else the first of the model that the phone knows. */
function carOf({ carIds, runs }: StudyToDrive, day: string, field: Field): string | undefined {
  const known = carIds.filter((id) => field.lists?.cars.some((car) => car.id === id));
  const onPhone = field.runs.find(
    ({ run }) => known.includes(run.form.carId ?? '') && localDay(run.createdAtMs) === day,
  )?.run.form.carId;
  return onPhone ?? runs.find((run) => run.day === day && known.includes(run.carId))?.carId ?? known[0];
}

/** The day by the phone's clock, known only in the browser; it moves on when the page is looked at again. */
export function useToday(): string | undefined {
  const [today, setToday] = useState<string>();
  useEffect(() => {
    const look = () => setToday(localDay(Date.now()));
    look();
    document.addEventListener('visibilitychange', look);
    return () => document.removeEventListener('visibilitychange', look);
  }, []);
  return today;
}
