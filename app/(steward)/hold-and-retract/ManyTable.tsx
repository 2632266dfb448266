import { type Column, DataTable } from '@/app/ui/DataTable';
import { RunLink } from '@/app/ui/RunLink';
import { Day } from '@/app/ui/When';
import type { ListedMany } from '@/lib/registry/review/manyRuns';

interface ManyTableProps {
  caption: string;
  rows: readonly ListedMany[];
  /** Numbers that are ticked at first; without, nothing can be ticked. */
  ticked?: ((number: number) => boolean) | undefined;
}

/** Runs with what tells them apart, each with a box to choose it where it can be chosen. */
export function ManyTable({ caption, rows, ticked }: ManyTableProps) {
  const run: Column<ListedMany> = {
    key: 'run',
    header: 'Run',
    rowHeader: true,
    cell: ({ number }) => (
      <span className="flex items-center gap-2.5">
        {ticked === undefined ? null : (
          <input
            type="checkbox"
            name="run"
            value={number}
            defaultChecked={ticked(number)}
            aria-label={`Choose run ${number}`}
            className="size-5 shrink-0 accent-accent"
          />
        )}
        <RunLink number={number} />
      </span>
    ),
  };
  return (
    <DataTable
      caption={caption}
      captionHidden
      rows={rows}
      rowKey={({ number }) => String(number)}
      empty="No run meets this."
      columns={[
        run,
        {
          key: 'state',
          header: 'State',
          cell: ({ state, holdReason, isCounted }) => (
            <>
              {state}
              {isCounted ? ', counts' : ''}
              {holdReason === undefined ? null : (
                <span className="block text-ink-soft">Held: {holdReason}</span>
              )}
            </>
          ),
        },
        { key: 'tester', header: 'Tester', cell: ({ tester }) => tester.displayName },
        { key: 'what', header: 'Setup', wide: true, cell: ({ what }) => what },
        {
          key: 'where',
          header: 'Loop, class, day',
          cell: ({ loop, classLabel, day }) => (
            <>
              {loop}
              <span className="num block text-ink-soft">
                {classLabel}, <Day of={day} />
              </span>
            </>
          ),
        },
      ]}
    />
  );
}
