import { DensityStrip } from '@/app/ui/figures/DensityStrip';
import { FigureWithTable } from '@/app/ui/figures/FigureWithTable';
import type { ClassEstimate, SetupView } from '@/lib/registry/setups/setup';
import type { RunDensity as Density } from '@/lib/registry/setups/setupSessions';
import type { Display } from '@/lib/units/display';
import { senseOf } from '@/lib/units/sense';
import { fromCanonical, unitSymbol } from '@/lib/units/unit';
import { consumptionNumber, fittedText } from '../../consumptionText';

interface RunDensityProps {
  view: Pick<SetupView, 'title'>;
  density: Density;
  chosen: Pick<
    ClassEstimate,
    'classLabel' | 'estimateWhPerKm' | 'lowWhPerKm' | 'highWhPerKm' | 'intervalKind'
  >;
  display: Display;
}

const SHARES = ['5 %', '25 %', 'half', '75 %', '95 %'] as const;

/** All runs of the class at once where they are too many for a dot each. */
export function RunDensity({ view, density, chosen, display }: RunDensityProps) {
  const { runs, leastWhPerKm, mostWhPerKm, quantilesWhPerKm, bins } = density;
  const sense = senseOf(display.consumption);
  const shown = (whPerKm: number) => fromCanonical(whPerKm, display.consumption);
  const width = (mostWhPerKm - leastWhPerKm) / bins.length;
  const [lower, median, upper] = ascending(
    [1, 2, 3].map((index) => shown(quantilesWhPerKm[index] ?? Number.NaN)),
  );
  const summary = `${view.title} at ${chosen.classLabel}, drawn as a density of ${runs} runs.`;
  return (
    <FigureWithTable
      caption={summary}
      reading="The height of a bar is the number of runs in it. The line below holds the middle half of the runs, its tick stands at their median."
      tableCaption={`How the runs of ${view.title} lie at ${chosen.classLabel}`}
      table={{
        columns: [
          { header: `Share of runs that ${sense.isHigherBetter ? 'went further' : 'used less'}` },
          { header: 'Normalised', unit: unitSymbol(display.consumption) },
        ],
        rows: quantilesWhPerKm.map((whPerKm, index) => [SHARES[index], consumptionNumber(whPerKm, display)]),
      }}
    >
      <DensityStrip
        title={`Density of the runs of ${view.title}`}
        desc={summary}
        bins={bins.map((count, index) => {
          const [from = 0, to = 0] = ascending(
            [index, index + 1].map((edge) => shown(leastWhPerKm + edge * width)),
          );
          return { from, to, count };
        })}
        middle={{
          low: lower ?? Number.NaN,
          median: median ?? Number.NaN,
          high: upper ?? Number.NaN,
          label: 'middle half of the runs, with their median',
        }}
        reference={{
          value: shown(chosen.estimateWhPerKm),
          label: `estimate ${fittedText(chosen, display)}`,
        }}
        axisLabel={`normalised ${sense.quantity}, ${unitSymbol(display.consumption)}`}
      />
    </FigureWithTable>
  );
}

/** A unit of distance per energy turns every order round. */
const ascending = (values: readonly number[]) => [...values].sort((a, b) => a - b);
