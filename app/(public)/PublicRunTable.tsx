import { DataTable } from '@/app/ui/DataTable';
import { Link } from '@/app/ui/Link';
import { PLUS_MINUS } from '@/app/ui/plusMinus';
import { Day } from '@/app/ui/When';
import type { PublicRun } from '@/lib/registry/runs/publicRuns';
import type { Display } from '@/lib/units/display';
import { placeOf, showWithUncertainty } from '@/lib/units/show';
import { unitSymbol } from '@/lib/units/unit';
import { consumptionNumber } from './consumptionText';

interface PublicRunTableProps {
  caption: string;
  runs: readonly PublicRun[];
  display: Display;
  /** What is the same for all of them and need not be said again. */
  without?: readonly ('model' | 'setup' | 'loop' | 'tester')[];
}

/** Approved runs, each by its number, with the measured and the normalised consumption. */
export function PublicRunTable({ caption, runs, display, without = [] }: PublicRunTableProps) {
  const named = (key: 'model' | 'setup' | 'loop' | 'tester') => !without.includes(key);
  return (
    <DataTable
      caption={caption}
      rows={runs}
      rowKey={(run) => String(run.number)}
      empty="No approved run yet."
      footnote={runs.length === 0 ? undefined : PLUS_MINUS}
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
          cell: (run) => <Day of={run.date} />,
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
          unit: unitSymbol(display.consumption),
          align: 'end',
          cell: (run) => measuredText(run, display),
        },
        {
          key: 'normalised',
          header: 'At reference conditions',
          answer: true,
          label: `At reference, ${unitSymbol(display.consumption)}, ±`,
          unit: `${unitSymbol(display.consumption)}, ±`,
          align: 'end',
          cell: (run) => normalisedText(run, display),
        },
      ]}
    />
  );
}

/** The measured number to the place of the normalised one beside it. */
function measuredText(run: PublicRun, display: Display): string {
  const { measuredWhPerKm: measured, normalisedWhPerKm: normalised, uWhPerKm: u } = run;
  if (measured === null) return '–';
  return normalised === null || u === null
    ? consumptionNumber(measured, display)
    : consumptionNumber(measured, display, placeOf(normalised, u, 'consumption', display));
}

function normalisedText(run: PublicRun, display: Display): string {
  const { normalisedWhPerKm: normalised, uWhPerKm: u } = run;
  if (normalised === null) return 'no number';
  if (u === null) return consumptionNumber(normalised, display);
  return showWithUncertainty(normalised, u, 'consumption', display, { bare: true });
}
