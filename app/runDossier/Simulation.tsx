import { DataTable } from '@/app/ui/DataTable';
import { LinkButton } from '@/app/ui/LinkButton';
import { Notice } from '@/app/ui/Notice';
import type { RunSimulation } from '@/lib/physics/monteCarlo';
import type { NormalisedRun } from '@/lib/physics/normalise';
import type { RunResult } from '@/lib/reduction/runResult';
import type { Display } from '@/lib/units/display';
import { additiveUnit } from '@/lib/units/sense';
import { budgetPlace, placeOf, showNumber, showQuantity } from '@/lib/units/show';
import { unitSymbol } from '@/lib/units/unit';

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
          The interval above rests on first-order propagation. Drawing the stored inputs 10 000 times from
          their distributions shows whether that is enough for this run.
        </p>
        <div className="no-print">
          <LinkButton href={href}>Run the simulation</LinkButton>
        </div>
      </>
    );
  }
  // one place finer than the result, to see by how much the two ways differ
  const unit = additiveUnit(display.consumption);
  const decimals = budgetPlace(placeOf(run.normalisedWhPerKm, run.uWhPerKm, unit, display));
  const text = (whPerKm: number) => showQuantity(whPerKm, unit, display, { decimals, bare: true });
  const symbol = unitSymbol(unit);
  const rows = [
    {
      key: 'first',
      name: 'First order (JCGM 100)',
      value: run.normalisedWhPerKm,
      u: simulation.firstOrderUWhPerKm,
      interval: run.interval95,
    },
    {
      key: 'simulated',
      name: 'Simulation (JCGM 101)',
      value: simulation.meanWhPerKm,
      u: simulation.uWhPerKm,
      interval: simulation.interval95,
    },
  ];
  return (
    <>
      <DataTable
        caption={`First order beside ${showNumber(simulation.draws, 0, display)} draws, seed ${simulation.seed}`}
        rows={rows}
        rowKey={(row) => row.key}
        columns={[
          { key: 'name', header: 'Way', rowHeader: true, cell: (row) => row.name },
          { key: 'value', header: 'Value', unit: symbol, align: 'end', cell: (row) => text(row.value) },
          {
            key: 'u',
            header: 'Standard uncertainty',
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
          title={`The two agree: simulated over first-order uncertainty is ${showNumber(simulation.ratio, 3, display)}, within 5 %.`}
        />
      ) : (
        <Notice
          kind="caution"
          title={`The two do not agree within 5 %: the ratio is ${showNumber(simulation.ratio, 3, display)}.`}
        >
          {simulation.nonLinearInput
            ? `The model bends most with the input “${simulation.nonLinearInput.label}”, by ${text(simulation.nonLinearInput.bendWhPerKm)} ${symbol} over one standard uncertainty. Read the simulated interval for this run.`
            : 'Read the simulated interval for this run.'}
        </Notice>
      )}
    </>
  );
}
