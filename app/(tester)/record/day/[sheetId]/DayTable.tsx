import { type Column, DataTable } from '@/app/ui/DataTable';
import { Link } from '@/app/ui/Link';
import { StatusTag } from '@/app/ui/StatusTag';
import type { DayRun, DaySheetView } from '@/lib/registry/sessionSheets/daySheet';
import { typedWords } from '@/lib/run/fields/fieldWords';
import { quantityField, type RunQuantity } from '@/lib/run/fields/table';
import { parseRunForm } from '@/lib/run/parseRunForm';
import type { RunForm } from '@/lib/run/runForm';
import { RUN_STATUS_LABELS } from '@/lib/run/runStatus';
import { inTimeOrder } from '@/lib/run/sessionSheet';

interface DayTableProps {
  view: DaySheetView;
  /** The form of the open run as it stands on the page. */
  now: RunForm;
}

/** The day's runs side by side in the order of their starts, as typed. */
export function DayTable({ view, now }: DayTableProps) {
  const runs = inTimeOrder(
    view.runs.map((run) =>
      run.runId === view.open?.runId
        ? { ...run, form: now, isComplete: parseRunForm(now, { now: view.now }).ok }
        : run,
    ),
  );
  const titles = new Map(view.cars.flatMap(({ setups }) => setups.map(({ id, title }) => [id, title])));
  return (
    <DataTable
      caption="The day’s runs in the order of their starts, as typed"
      rows={runs}
      rowKey={({ runId }) => runId}
      empty="No run yet."
      columns={[
        {
          key: 'run',
          header: 'Run',
          rowHeader: true,
          cell: (run) => <RunName run={run} isOpen={run.runId === view.open?.runId} />,
        },
        { key: 'start', header: 'Start', cell: ({ form }) => (form.startedAtLocal ?? '').slice(11) || '–' },
        { key: 'setup', header: 'Setup', cell: ({ form }) => titles.get(form.setupId ?? '') ?? '–' },
        shown('tripDistance', 'Distance'),
        shown('tripEnergy', 'Energy'),
        { ...shown('tripEfficiency', 'Consumption'), answer: true },
        shown('tripDuration', 'Time'),
        {
          key: 'charge',
          header: 'Charge',
          align: 'end',
          cell: ({ form }) => `${words(form, 'chargeStart')} → ${words(form, 'chargeEnd')}`,
        },
        shown('airTemperature', 'Air'),
        shown('windSpeed', 'Wind'),
        {
          key: 'state',
          header: 'State',
          cell: (run) =>
            run.status === 'draft' ? (
              <StatusTag state="draft" label={run.isComplete ? 'Complete, not sent' : 'Draft'} />
            ) : (
              <StatusTag state={run.status} label={RUN_STATUS_LABELS[run.status]} />
            ),
        },
      ]}
    />
  );
}

/** A draft opens here, with what was typed meanwhile saved; what was sent has its own page. */
function RunName({ run, isOpen }: { run: DayRun; isOpen: boolean }) {
  if (isOpen) {
    return (
      <a href="#run" className="link num" aria-current="true">
        Run {run.number}
      </a>
    );
  }
  if (run.status !== 'draft') {
    return (
      <Link href={`/record/${run.runId}`} className="link num">
        Run {run.number}
      </Link>
    );
  }
  return (
    <button type="submit" name="intent" value={`open:${run.runId}`} className="link num">
      Run {run.number}
    </button>
  );
}

function words(form: RunForm, quantity: RunQuantity): string {
  return typedWords(form, quantityField(quantity)) || '–';
}

function shown(quantity: RunQuantity, header: string): Column<DayRun> {
  return { key: quantity, header, align: 'end', cell: ({ form }) => words(form, quantity) };
}
