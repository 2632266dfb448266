import Link from 'next/link';
import { DataTable } from '@/app/ui/DataTable';
import type { PublicRun } from '@/lib/registry/runs/publicRuns';
import { formatNumber } from '@/lib/units/format';
import { spreadFromCanonical, type UnitCode, unitSymbol } from '@/lib/units/unit';
import { consumptionNumber } from './consumptionText';
import { decimalsOf } from './rankings/rankingRows';

interface PublicRunTableProps {
  caption: string;
  runs: readonly PublicRun[];
  unit: UnitCode;
  /** What is the same for all of them and need not be said again. */
  without?: readonly ('model' | 'setup' | 'loop' | 'tester')[];
}

/** Approved runs, each by its number, with the measured and the normalised consumption. */
export function PublicRunTable({ caption, runs, unit, without = [] }: PublicRunTableProps) {
  const named = (key: 'model' | 'setup' | 'loop' | 'tester') => !without.includes(key);
  return (
    <DataTable
      caption={caption}
      rows={runs}
      rowKey={(run) => String(run.number)}
      empty="No approved run yet."
      columns={[
        {
          key: 'run',
          header: 'Run',
          rowHeader: true,
          cell: (run) => (
            <Link className="link whitespace-nowrap" href={`/runs/${run.number}`}>
              Run {run.number}
            </Link>
          ),
        },
        {
          key: 'date',
          header: 'Date',
          cell: (run) => <span className="num whitespace-nowrap">{run.date}</span>,
        },
        { key: 'class', header: 'Class', cell: (run) => run.classLabel },
        ...(named('setup')
          ? [
              {
                key: 'setup',
                header: 'Setup',
                wide: true,
                cell: (run: PublicRun) => (
                  <>
                    <Link className="link" href={`/setups/${run.setupSlug}`}>
                      {run.setupTitle}
                    </Link>
                    {named('model') ? <span className="block text-ink-soft">{run.model}</span> : null}
                  </>
                ),
              },
            ]
          : []),
        ...(named('loop')
          ? [
              {
                key: 'loop',
                header: 'Loop',
                cell: (run: PublicRun) => (
                  <Link className="link" href={`/loops/${run.loopSlug}`}>
                    {run.loopName}
                  </Link>
                ),
              },
            ]
          : []),
        ...(named('tester')
          ? [
              {
                key: 'tester',
                header: 'Tester',
                cell: (run: PublicRun) => (
                  <Link className="link" href={`/testers/${run.testerSlug}`}>
                    {run.testerName}
                  </Link>
                ),
              },
            ]
          : []),
        {
          key: 'measured',
          header: 'Measured',
          unit: unitSymbol(unit),
          align: 'end',
          cell: (run) => (run.measuredWhPerKm === null ? '–' : consumptionNumber(run.measuredWhPerKm, unit)),
        },
        {
          key: 'normalised',
          header: 'Normalised ± u',
          unit: unitSymbol(unit),
          align: 'end',
          cell: (run) => normalisedText(run, unit),
        },
      ]}
    />
  );
}

function normalisedText(run: PublicRun, unit: UnitCode): string {
  if (run.normalisedWhPerKm === null) return 'outside reach';
  const value = consumptionNumber(run.normalisedWhPerKm, unit);
  if (run.uWhPerKm === null) return value;
  const spread = spreadFromCanonical(run.uWhPerKm, unit, run.normalisedWhPerKm);
  return `${value} ± ${formatNumber(spread, decimalsOf(unit))}`;
}
