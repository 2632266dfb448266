import { DataTable } from '@/app/ui/DataTable';
import { Outcome } from '@/app/ui/Outcome';
import { RunLink } from '@/app/ui/RunLink';
import { StatusTag } from '@/app/ui/StatusTag';
import { Day } from '@/app/ui/When';
import type { CorrectedRunRow } from '@/lib/registry/corrections/correction';
import type { Display } from '@/lib/units/display';
import { percentIn } from '@/lib/units/sense';
import { showNumber, showWithUncertainty } from '@/lib/units/show';

/** Each run of a correction: its number on file and the corrected one, and what the rules say of it today. */
export function CorrectedRuns({ rows, display }: { rows: readonly CorrectedRunRow[]; display: Display }) {
  const number = (result: CorrectedRunRow['before']) =>
    result === null
      ? 'no number'
      : showWithUncertainty(result.whPerKm, result.uWhPerKm, 'consumption', display);
  return (
    <DataTable
      caption="Runs of this correction, by number"
      captionHidden
      rows={rows}
      rowKey={(row) => String(row.number)}
      empty="None."
      columns={[
        {
          key: 'run',
          header: 'Run',
          rowHeader: true,
          cell: (row) => <RunLink number={row.number} />,
        },
        { key: 'before', header: 'On file', align: 'end', cell: (row) => number(row.before) },
        { key: 'after', header: 'Corrected', align: 'end', answer: true, cell: (row) => number(row.after) },
        { key: 'change', header: 'Change', align: 'end', cell: (row) => changeText(row, display) },
        { key: 'rules', header: 'Rules today', cell: (row) => <Rules row={row} /> },
        { key: 'state', header: 'State', cell: (row) => <StatusTag state={row.status} /> },
        {
          key: 'of',
          header: 'Setup and day',
          cell: (row) => (
            <>
              {row.setup}
              <span className="block text-ink-soft">
                <Day of={row.localDate} />
              </span>
            </>
          ),
        },
        { key: 'tester', header: 'Tester', cell: (row) => row.tester.displayName },
      ]}
      footnote="At reference conditions, with one standard uncertainty, both under the version of the method in effect."
    />
  );
}

function changeText({ before, after }: CorrectedRunRow, display: Display): string {
  if (before === null || after === null) return '–';
  const percent = 100 * (after.whPerKm / before.whPerKm - 1);
  return `${showNumber(percentIn(display.consumption, percent), 2, display, { signed: true })} %`;
}

function Rules({ row }: { row: CorrectedRunRow }) {
  const { failing, failsBefore, cautionsBefore, cautionsAfter } = row;
  return (
    <span className="flex flex-col">
      {failing.length > 0 ? (
        <>
          <Outcome outcome="fail" label={failsBefore > 0 ? 'Would fail, as before' : 'Would fail today'} />
          <span className="text-sm">{failing.join('; ')}</span>
        </>
      ) : null}
      {cautionsAfter !== cautionsBefore ? (
        <Outcome outcome="caution" label={`${cautionsAfter} cautions, ${cautionsBefore} before`} />
      ) : null}
      {failing.length === 0 && cautionsAfter === cautionsBefore ? (
        <Outcome outcome="pass" label={failsBefore > 0 ? 'No longer fails' : 'As before'} />
      ) : null}
    </span>
  );
}
