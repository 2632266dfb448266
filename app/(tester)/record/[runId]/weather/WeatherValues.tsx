import { DataTable } from '@/app/ui/DataTable';
import { Notice } from '@/app/ui/Notice';
import type { WeatherOfForm } from '@/lib/capture/weather/weatherOfForm';
import { wallClockWords } from '@/lib/run/localDate';
import type { Display } from '@/lib/units/display';
import { say } from '@/lib/units/said';

/** What each report said, what of it was not understood, and what all of them make of the run's weather. */
export function WeatherValues({ weather, display }: { weather: WeatherOfForm; display: Display }) {
  const { reports, conditions, values, issues } = weather;
  return (
    <div className="space-y-5">
      {issues.map((issue) => (
        <Notice key={`${issue.path} ${issue.what}`} kind="problem" title={issue.what} live>
          {issue.why} {issue.fix}
        </Notice>
      ))}
      {reports.length > 0 ? (
        <DataTable
          caption="Reports read"
          rows={reports.map((one, index) => ({ ...one, key: String(index) }))}
          rowKey={(one) => one.key}
          columns={[
            { key: 'station', header: 'Station', rowHeader: true, cell: (one) => one.report?.station ?? '–' },
            {
              key: 'time',
              header: 'Time, UTC',
              cell: (one) => (one.report === null ? '–' : utc(one.report.timeMs)),
            },
            {
              key: 'unread',
              header: 'Not understood',
              wide: true,
              cell: (one) => (one.report === null ? one.refusal : one.report.unread.join(' ') || 'nothing'),
            },
            {
              key: 'leftOut',
              header: 'Forecast and remarks, not used',
              wide: true,
              cell: (one) =>
                [...(one.report?.forecast ?? []), ...(one.report?.remarks ?? [])].join(' ') || 'none',
            },
          ]}
        />
      ) : null}
      {conditions ? (
        <DataTable
          caption={`Over the time of the run, from ${conditions.reportsUsed} of these reports of ${conditions.station}`}
          rows={values}
          rowKey={(value) => value.name}
          columns={[
            { key: 'label', header: 'Quantity', rowHeader: true, cell: (value) => value.label },
            { key: 'shown', header: 'By the reports', align: 'end', cell: (value) => value.shown },
            { key: 'typed', header: 'In the form', align: 'end', cell: (value) => value.typed || '–' },
          ]}
          footnote={
            <>
              The uncertainty holds the report’s rounding, the change between reports and the station’s
              distance. It goes into the result as long as the value stays the report’s.{' '}
              {conditions.notes.map((note) => say(note, display)).join(' ')}
            </>
          }
        />
      ) : null}
    </div>
  );
}

const utc = (timeMs: number) => wallClockWords(timeMs, 0);
