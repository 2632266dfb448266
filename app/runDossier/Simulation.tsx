import { DataTable } from '@/app/ui/DataTable';
import { LinkButton } from '@/app/ui/LinkButton';
import { Notice } from '@/app/ui/Notice';
import type { RunSimulation } from '@/lib/physics/monteCarlo';
import type { NormalisedRun } from '@/lib/physics/normalise';
import type { RunResult } from '@/lib/reduction/runResult';
import type { Display } from '@/lib/units/display';
import { additiveUnit } from '@/lib/units/sense';
import { budgetPlace, showNumber, showQuantity } from '@/lib/units/show';
import { unitSymbol } from '@/lib/units/unit';
import { inputWords } from './inputWords';
import { shownResult } from './numbers';

interface SimulationProps {
  run: NormalisedRun;
  result: RunResult;
  simulation: RunSimulation | null;
  href: string;
  display: Display;
}

/** The same inputs drawn at random (JCGM 101) beside the first-order budget (JCGM 100). */
export function Simulation({ run, result, simulation, href, display }: SimulationProps) {
  if (simulation === null) {
    return (
      <>
        <p className="mb-4 max-w-[38rem]">
          The interval above comes from a formula, which takes every small error to count in proportion. The
          simulation draws all inputs 10 000 times at random instead and shows whether that was good enough
          for this run.
        </p>
        <div className="no-print">
          <LinkButton href={href}>Run the simulation</LinkButton>
        </div>
      </>
    );
  }
  // one place finer than the result, to see by how much the two ways differ
  const unit = additiveUnit(display.consumption);
  const decimals = budgetPlace(shownResult(run, unit, display).decimals);
  const text = (whPerKm: number) => showQuantity(whPerKm, unit, display, { decimals, bare: true });
  const symbol = unitSymbol(unit);
  const rows = [
    {
      key: 'first',
      name: 'By the formula',
      value: run.normalisedWhPerKm,
      u: simulation.firstOrderUWhPerKm,
      interval: run.interval95,
    },
    {
      key: 'simulated',
      name: 'By simulation',
      value: simulation.meanWhPerKm,
      u: simulation.uWhPerKm,
      interval: simulation.interval95,
    },
  ];
  return (
    <>
      <DataTable
        caption={`The formula beside ${showNumber(simulation.draws, 0, display)} random draws, seed ${simulation.seed}`}
        rows={rows}
        rowKey={(row) => row.key}
        columns={[
          { key: 'name', header: 'Way', rowHeader: true, cell: (row) => row.name },
          { key: 'value', header: 'Value', unit: symbol, align: 'end', cell: (row) => text(row.value) },
          {
            key: 'u',
            header: '±',
            unit: symbol,
            align: 'end',
            cell: (row) => text(row.u),
          },
          {
            key: 'interval',
            header: '95 % interval',
            unit: symbol,
            align: 'end',
            cell: (row) => `${text(row.interval[0])} to ${text(row.interval[1])}`,
          },
        ]}
      />
      {result.isCurrentMethod ? null : (
        <p className="mt-2 max-w-[38rem] text-sm text-ink-soft">
          The stored result is of method {result.methodVersion}; the simulation is made by the method of
          today.
        </p>
      )}
      {simulation.agrees ? (
        <Notice
          kind="done"
          title={`The two agree within 5 %: by simulation the ± is ${showNumber(simulation.ratio, 3, display)} times that of the formula.`}
        />
      ) : (
        <Notice
          kind="caution"
          title={`The two do not agree within 5 %: by simulation the ± is ${showNumber(simulation.ratio, 3, display)} times that of the formula.`}
        >
          {simulation.nonLinearInput
            ? `The result departs most from proportion in “${inputWords(simulation.nonLinearInput.label)}”: by ${text(simulation.nonLinearInput.bendWhPerKm)} ${symbol} over its ±. Read the simulated interval for this run.`
            : 'Read the simulated interval for this run.'}
        </Notice>
      )}
    </>
  );
}
