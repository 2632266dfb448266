import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import type { DaySheetView } from '@/lib/registry/sessionSheets/daySheet';
import type { RunForm } from '@/lib/run/runForm';
import { orderWords, proposedSetup } from '@/lib/run/setupOrder';
import { type NextToDrive, nextToDrive, type StudyToDrive, studyOf } from '@/lib/study/nextToDrive';

interface NextRunProps {
  view: DaySheetView;
  /** As they stand on the page. */
  runs: readonly DrivenRun[];
  day: RunForm;
  /** What the plan of the day's study has next, where it is of one. */
  planned: DayOfStudy | undefined;
}

/** A day in the plan of the study that its runs belong to. */
export interface DayOfStudy {
  study: StudyToDrive;
  next: NextToDrive;
}

/** Same again, other setup: the next run of the day, with the setup that the plan of its study has next, or that balances the order. */
export function NextRun({ view, runs, day, planned }: NextRunProps) {
  const balancing = proposedSetup(runs.map(({ setupId }) => setupId));
  const setupId = planned?.next.setupId ?? balancing?.setupId;
  const setups = view.cars.find(({ id }) => id === day.carId)?.setups ?? [];
  if (view.isFull) return <p className="text-sm text-ink-soft">This sheet is full: open another.</p>;
  return (
    <div className="flex flex-wrap items-end gap-4">
      <ChoiceField
        // The proposal moves on with what is typed above.
        key={setupId}
        name="nextSetupId"
        label={view.runs.length === 0 ? 'Setup of the first run' : 'Setup of the next run'}
        hint={planned?.next.setupId ? 'By the plan of the study.' : orderWords(balancing?.order)}
        emptyLabel="Choose later"
        options={setups.map(({ id, title }) => ({ value: id, label: title }))}
        defaultValue={setupId ?? runs.at(-1)?.setupId ?? ''}
      />
      <input type="hidden" name="nextKey" value={view.nextKey} />
      <input type="hidden" name="nextStudyId" value={planned?.study.studyId ?? ''} />
      <SubmitButton name="intent" value="next" variant="secondary" pendingText="Opening…">
        {view.runs.length === 0 ? 'Begin the first run' : 'Same again with this setup'}
      </SubmitButton>
    </div>
  );
}

/** The study that the day's runs belong to as they stand on the page, and what its plan has next. */
export function dayOfStudy(
  view: DaySheetView,
  runs: readonly DrivenRun[],
  day: RunForm,
): DayOfStudy | undefined {
  const study = studyOf(view.studies, {
    ...day,
    setupId: undefined,
    begunForStudyId: view.begunForStudyId,
  });
  if (study === undefined) return undefined;
  const own = runs.filter(({ setupId }) => study.setups.some(({ id }) => id === setupId));
  return { study, next: nextToDrive(study, { day: view.localDate, carId: day.carId ?? '', runs: own }) };
}

/** A run of the day with the setup that it has on the page. */
export interface DrivenRun {
  number: number;
  setupId: string;
}

/** The day's runs so far with their setups, the open one's as it stands on the page. */
export function drivenRuns(view: DaySheetView, now: RunForm): DrivenRun[] {
  return view.runs.flatMap((run) => {
    const { setupId = '' } = run.runId === view.open?.runId ? now : run.form;
    return setupId === '' ? [] : [{ number: run.number, setupId }];
  });
}
