import type { FigureDescription } from '@/app/ui/figures/description';
import type { RunDensity } from '@/lib/registry/setups/setupSessions';
import type { Display } from '@/lib/units/display';
import { senseOf } from '@/lib/units/sense';
import { showInterval } from '@/lib/units/show';
import { fromCanonical, unitSymbol } from '@/lib/units/unit';
import { consumptionNumber, fittedText } from '../../consumptionText';
import { type ClassOfFigure, type SetupOfFigure, setupSource } from './setupSource';

const SHARES = ['5 %', '25 %', 'half', '75 %', '95 %'] as const;

/** All runs of the class at once where they are too many for a dot each. */
export function densityFigure(
  view: SetupOfFigure,
  density: RunDensity,
  chosen: ClassOfFigure,
  display: Display,
): FigureDescription {
  const unit = display.consumption;
  const sense = senseOf(unit);
  const { runs, leastWhPerKm, mostWhPerKm, quantilesWhPerKm } = density;
  const shown = (whPerKm: number) => fromCanonical(whPerKm, unit);
  const width = (mostWhPerKm - leastWhPerKm) / density.bins.length;
  const edge = (index: number) => leastWhPerKm + index * width;
  const bins = density.bins.map((count, index) => {
    const [from = 0, to = 0] = ascending([index, index + 1].map((at) => shown(edge(at))));
    return { from, to, count };
  });
  const [lower, median, upper] = ascending(
    [1, 2, 3].map((index) => shown(quantilesWhPerKm[index] ?? Number.NaN)),
  );
  const estimate = fittedText(chosen, display);
  const symbol = unitSymbol(unit);
  return {
    ...setupSource('setup-density', view, chosen, display),
    title: `${view.title} at ${chosen.classLabel}, how ${runs} runs lie around ${estimate}.`,
    desc: `Half of the runs ${sense.isHigherBetter ? 'went further' : 'used less'} than ${consumptionNumber(quantilesWhPerKm[2] ?? Number.NaN, display)} ${symbol}.`,
    reading:
      'The height of a bar is the number of runs in it. The line below holds the middle half of the runs; its tick stands at the middle run.',
    counts: `${runs} runs`,
    drawing: {
      kind: 'density',
      bins,
      middle: {
        low: lower ?? Number.NaN,
        median: median ?? Number.NaN,
        high: upper ?? Number.NaN,
        label: 'middle half of the runs, and the middle one',
      },
      reference: { value: shown(chosen.estimateWhPerKm), label: `estimate ${estimate}` },
      axisLabel: `${sense.quantity} at reference conditions, ${symbol}`,
      firstRow: quantilesWhPerKm.length,
    },
    table: {
      caption: `How the runs of ${view.title} lie at ${chosen.classLabel}: shares, then bars`,
      columns: [
        {
          header: `Share of runs that ${sense.isHigherBetter ? 'went further' : 'used less'}, or runs in a bar`,
        },
        { header: 'At reference conditions', unit: symbol },
      ],
      rows: [
        ...quantilesWhPerKm.map((whPerKm, index) => [
          SHARES[index] ?? '',
          consumptionNumber(whPerKm, display),
        ]),
        ...bins.map(({ count }, index) => [
          `${count} ${count === 1 ? 'run' : 'runs'}`,
          showInterval(edge(index), edge(index + 1), 'consumption', display, { bare: true }),
        ]),
      ],
    },
  };
}

/** A unit of distance per energy turns every order round. */
const ascending = (values: readonly number[]) => [...values].sort((a, b) => a - b);
