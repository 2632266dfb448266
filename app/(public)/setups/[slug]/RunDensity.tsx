import { DensityStrip } from '@/app/ui/figures/DensityStrip';
import { FigureWithTable } from '@/app/ui/figures/FigureWithTable';
import type { ClassEstimate, SetupView } from '@/lib/registry/setups/setup';
import type { RunDensity as Density } from '@/lib/registry/setups/setupSessions';
import { fromCanonical, type UnitCode, unitSymbol } from '@/lib/units/unit';
import { consumptionNumber, consumptionText } from '../../consumptionText';

interface RunDensityProps {
  view: Pick<SetupView, 'title'>;
  density: Density;
  chosen: Pick<ClassEstimate, 'classLabel' | 'estimateWhPerKm'>;
  unit: UnitCode;
}

const SHARES = ['5 %', '25 %', 'half', '75 %', '95 %'] as const;

/** All runs of the class at once where they are too many for a dot each. */
export function RunDensity({ view, density, chosen, unit }: RunDensityProps) {
  const { runs, leastWhPerKm, mostWhPerKm, quantilesWhPerKm, bins } = density;
  const shown = (whPerKm: number) => fromCanonical(whPerKm, unit);
  const width = (mostWhPerKm - leastWhPerKm) / bins.length;
  const [lower, median, upper] = [1, 2, 3].map((index) => shown(quantilesWhPerKm[index] ?? Number.NaN));
  const summary = `${view.title} at ${chosen.classLabel}, drawn as a density of ${runs} runs.`;
  return (
    <FigureWithTable
      caption={summary}
      reading="The height of a bar is the number of runs in it. The line below holds the middle half of the runs, its tick stands at their median."
      tableCaption={`How the runs of ${view.title} lie at ${chosen.classLabel}`}
      table={{
        columns: [
          { header: 'Share of runs that used less' },
          { header: 'Normalised', unit: unitSymbol(unit) },
        ],
        rows: quantilesWhPerKm.map((whPerKm, index) => [SHARES[index], consumptionNumber(whPerKm, unit)]),
      }}
    >
      <DensityStrip
        title={`Density of the runs of ${view.title}`}
        desc={summary}
        bins={bins.map((count, index) => ({
          from: shown(leastWhPerKm + index * width),
          to: shown(leastWhPerKm + (index + 1) * width),
          count,
        }))}
        middle={{
          low: lower ?? Number.NaN,
          median: median ?? Number.NaN,
          high: upper ?? Number.NaN,
          label: 'middle half of the runs, with their median',
        }}
        reference={{
          value: shown(chosen.estimateWhPerKm),
          label: `estimate ${consumptionText(chosen.estimateWhPerKm, unit)}`,
        }}
        axisLabel={`normalised consumption, ${unitSymbol(unit)}`}
      />
    </FigureWithTable>
  );
}
