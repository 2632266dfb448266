import { DataTable } from '@/app/ui/DataTable';
import { Link } from '@/app/ui/Link';
import { StatusTag } from '@/app/ui/StatusTag';
import { Day } from '@/app/ui/When';
import type { MyRun } from '@/lib/registry/runs/myRuns';
import { RUN_STATUS_LABELS } from '@/lib/run/runStatus';

/** A tester's own runs, each with the page on which it goes on. */
export function RunTable({ caption, runs }: { caption: string; runs: readonly MyRun[] }) {
  // Runs of one state stand under its name.
  const isMixed = new Set(runs.map(({ status }) => status)).size > 1;
  return (
    <DataTable
      caption={caption}
      captionHidden
      rows={runs}
      rowKey={(run) => run.runId}
      columns={[
        {
          key: 'number',
          header: 'Run',
          rowHeader: true,
          cell: (run) => (
            <Link href={run.href} className="link num">
              Run {run.number}
            </Link>
          ),
        },
        ...(isMixed
          ? [
              {
                key: 'state',
                header: 'State',
                cell: (run: MyRun) => <StatusTag state={run.status} label={RUN_STATUS_LABELS[run.status]} />,
              },
            ]
          : []),
        {
          key: 'what',
          header: 'What',
          wide: true,
          cell: (run) => (
            <>
              {run.what}
              {run.note ? <span className="block text-ink-soft">“{run.note}”</span> : null}
            </>
          ),
        },
        { key: 'date', header: 'Driven on', cell: (run) => <Day of={run.date} /> },
        { key: 'next', header: 'Next', cell: (run) => run.nextAction },
      ]}
    />
  );
}
