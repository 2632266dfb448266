import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import type { DaySheetView } from '@/lib/registry/sessionSheets/daySheet';
import type { RunForm } from '@/lib/run/runForm';
import { proposedSetup } from '@/lib/run/setupOrder';

/** Same again, other setup: the next run of the day, with the setup that balances the order. */
export function NextRun({ view, driven, carId }: { view: DaySheetView; driven: string[]; carId: string }) {
  const proposal = proposedSetup(driven);
  const setups = view.cars.find(({ id }) => id === carId)?.setups ?? [];
  if (view.isFull) return <p className="text-sm text-ink-soft">This sheet is full: open another.</p>;
  return (
    <div className="flex flex-wrap items-end gap-4">
      <ChoiceField
        // The proposal moves on with what is typed above.
        key={proposal?.setupId}
        name="nextSetupId"
        label={view.runs.length === 0 ? 'Setup of the first run' : 'Setup of the next run'}
        hint={orderWords(proposal?.order)}
        emptyLabel="Choose later"
        options={setups.map(({ id, title }) => ({ value: id, label: title }))}
        defaultValue={proposal?.setupId ?? driven.at(-1) ?? ''}
      />
      <input type="hidden" name="nextKey" value={view.nextKey} />
      <SubmitButton name="intent" value="next" variant="secondary" pendingText="Opening…">
        {view.runs.length === 0 ? 'Begin the first run' : 'Same again with this setup'}
      </SubmitButton>
    </div>
  );
}

function orderWords(order: 'abba' | 'rotation' | undefined): string {
  if (order === 'abba')
    return 'Proposed by A B B A: what drifts over the day then falls on both setups alike.';
  if (order === 'rotation')
    return 'Proposed in turn. With more than two setups a drift over the day is not balanced: plan the order before driving.';
  return 'With two setups the order A B B A is proposed from the third run on.';
}

/** The setups of the day's runs so far, with the open one's as it stands on the page. */
export function drivenSetups(view: DaySheetView, now: RunForm): string[] {
  return view.runs
    .map((run) => (run.runId === view.open?.runId ? now : run.form).setupId ?? '')
    .filter((id) => id !== '');
}
