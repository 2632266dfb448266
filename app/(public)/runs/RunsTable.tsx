import { DataTable } from '@/app/ui/DataTable';
import { DemoMark } from '@/app/ui/DemoMark';
import { Link } from '@/app/ui/Link';
import { RunLink } from '@/app/ui/RunLink';
import { StatusTag } from '@/app/ui/StatusTag';
import { Day } from '@/app/ui/When';
import type { ListedRun } from '@/lib/registry/runs/runList';
import type { Display } from '@/lib/units/display';
import { placeOf, showEstimate, showQuantity } from '@/lib/units/show';
import { unitSymbol } from '@/lib/units/unit';
import { consumptionNumber } from '../consumptionText';

/** One run a row: its number with its interval, what it was, its weather. */
export function RunsTable({ runs, display }: { runs: readonly ListedRun[]; display: Display }) {
  // The mark over the list says it for all; a row says it where others are real.
  const isMixed = runs.some((run) => run.world !== 'demo');
  return (
    <DataTable
      caption="Published runs"
      captionHidden
      rows={runs}
      rowKey={(run) => String(run.number)}
      columns={[
        {
          key: 'run',
          header: 'Run',
          rowHeader: true,
          cell: (run) => (
            <>
              <RunLink number={run.number} />
              <span className="block text-ink-soft">
                <Day of={run.localDate} />
              </span>
              {run.status === 'approved' ? null : <StatusTag state={run.status} />}
              {run.world === 'demo' && isMixed ? (
                <span className="block">
                  <DemoMark inline />
                </span>
              ) : null}
            </>
          ),
        },
        {
          key: 'value',
          header: 'At reference conditions',
          unit: `${unitSymbol(display.consumption)}, 95 % interval`,
          label: `At reference, ${unitSymbol(display.consumption)}`,
          align: 'end',
          cell: (run) => <Value run={run} display={display} />,
        },
        {
          key: 'measured',
          header: 'As measured',
          unit: unitSymbol(display.consumption),
          align: 'end',
          cell: (run) => measured(run, display),
        },
        {
          key: 'setup',
          header: 'Setup',
          wide: true,
          cell: (run) => (
            <>
              <Link className="link" href={`/setups/${run.setup.slug}`}>
                {run.setup.title}
              </Link>
              <span className="block text-ink-soft">{run.model}</span>
            </>
          ),
        },
        {
          key: 'where',
          header: 'Loop and class',
          cell: (run) => (
            <>
              {run.loop.name}
              <span className="num block text-ink-soft">{run.classLabel}</span>
            </>
          ),
        },
        { key: 'weather', header: 'Weather', cell: (run) => weather(run, display) },
        { key: 'tester', header: 'Tester', cell: (run) => run.tester.displayName },
      ]}
    />
  );
}

function Value({ run, display }: { run: ListedRun; display: Display }) {
  if (run.normalised === null) return 'no number';
  const { whPerKm: value, interval95 } = run.normalised;
  const shown = showEstimate({ value, low: interval95[0], high: interval95[1] }, 'consumption', display);
  return (
    <>
      <strong className="font-semibold">{shown.value}</strong>
      <span className="block text-ink-soft">{shown.interval}</span>
    </>
  );
}

/** To the place of the number at reference conditions, where there is one. */
function measured({ measuredWhPerKm, normalised }: ListedRun, display: Display): string {
  if (measuredWhPerKm === null) return '–';
  return consumptionNumber(
    measuredWhPerKm,
    display,
    normalised === null
      ? undefined
      : placeOf(normalised.whPerKm, normalised.uWhPerKm, 'consumption', display),
  );
}

function weather(run: ListedRun, display: Display) {
  if (run.conditions === null) return '–';
  const { airTemperatureC, windSpeedMps, words } = run.conditions;
  return [
    showQuantity(airTemperatureC, 'temperature', display, { decimals: 0 }),
    windSpeedMps === null
      ? 'wind not given'
      : `wind ${showQuantity(windSpeedMps, 'wind', display, { decimals: display.wind === 'm/s' ? 1 : 0 })}`,
    words,
  ].join(', ');
}
