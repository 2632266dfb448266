import Link from 'next/link';
import { consumptionDecimals } from '@/app/runDossier/numbers';
import { DataTable } from '@/app/ui/DataTable';
import { DemoMark } from '@/app/ui/DemoMark';
import { StatusTag } from '@/app/ui/StatusTag';
import type { ListedRun } from '@/lib/registry/runs/runList';
import { formatInterval, formatQuantity } from '@/lib/units/format';
import { type UnitCode, unitSymbol } from '@/lib/units/unit';

/** One run a row: its number with its interval, what it was, its weather. */
export function RunsTable({ runs, unit }: { runs: readonly ListedRun[]; unit: UnitCode }) {
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
              <Link className="link num" href={`/runs/${run.number}`}>
                Run {run.number}
              </Link>
              <span className="num block text-ink-soft">{run.localDate}</span>
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
          unit: `${unitSymbol(unit)}, 95 % interval`,
          align: 'end',
          cell: (run) => <Value run={run} unit={unit} />,
        },
        {
          key: 'measured',
          header: 'As measured',
          unit: unitSymbol(unit),
          align: 'end',
          cell: (run) =>
            run.measuredWhPerKm === null
              ? '–'
              : formatQuantity(run.measuredWhPerKm, unit, {
                  decimals: consumptionDecimals(run.measuredWhPerKm, run.normalised?.uWhPerKm ?? 1, unit),
                  bare: true,
                }),
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
        { key: 'weather', header: 'Weather', cell: weather },
        { key: 'tester', header: 'Tester', cell: (run) => run.tester.displayName },
      ]}
    />
  );
}

function Value({ run, unit }: { run: ListedRun; unit: UnitCode }) {
  if (run.normalised === null) return 'not normalised';
  const { whPerKm, uWhPerKm, interval95 } = run.normalised;
  const decimals = consumptionDecimals(whPerKm, uWhPerKm, unit);
  return (
    <>
      <strong className="font-semibold">{formatQuantity(whPerKm, unit, { decimals, bare: true })}</strong>
      <span className="block text-ink-soft">
        {formatInterval(interval95[0], interval95[1], unit, { decimals, bare: true })}
      </span>
    </>
  );
}

function weather(run: ListedRun) {
  if (run.conditions === null) return '–';
  const { airTemperatureC, windSpeedMps, words } = run.conditions;
  return [
    formatQuantity(airTemperatureC, 'degC', { decimals: 0 }),
    windSpeedMps === null ? 'wind not given' : `wind ${formatQuantity(windSpeedMps, 'm/s', { decimals: 1 })}`,
    words,
  ].join(', ');
}
