import type { FigureDescription } from '@/app/ui/figures/description';
import type { RunDensity } from '@/lib/registry/setups/setupSessions';
import { formatNumber } from '@/lib/units/format';
import { fromCanonical, type UnitCode, unitSymbol } from '@/lib/units/unit';
import { consumptionNumber, consumptionText } from '../../consumptionText';
import { type ClassOfFigure, type SetupOfFigure, setupSource } from './setupSource';

const SHARES = ['5 %', '25 %', 'half', '75 %', '95 %'] as const;

/** All runs of the class at once where they are too many for a dot each. */
export function densityFigure(
  view: SetupOfFigure,
  density: RunDensity,
  chosen: ClassOfFigure,
  unit: UnitCode,
): FigureDescription {
  const { runs, leastWhPerKm, mostWhPerKm, quantilesWhPerKm } = density;
  const shown = (whPerKm: number) => fromCanonical(whPerKm, unit);
  const width = (mostWhPerKm - leastWhPerKm) / density.bins.length;
  const bins = density.bins.map((count, index) => ({
    from: shown(leastWhPerKm + index * width),
    to: shown(leastWhPerKm + (index + 1) * width),
    count,
  }));
  const [lower, median, upper] = [1, 2, 3].map((index) => shown(quantilesWhPerKm[index] ?? Number.NaN));
  const estimate = consumptionText(chosen.estimateWhPerKm, unit);
  const symbol = unitSymbol(unit);
  return {
    ...setupSource('setup-density', view, chosen, unit),
    title: `${view.title} at ${chosen.classLabel}, drawn as a density of ${runs} runs around ${estimate}.`,
    desc: `Half of the runs used less than ${consumptionNumber(quantilesWhPerKm[2] ?? Number.NaN, unit)} ${symbol}.`,
    reading:
      'The height of a bar is the number of runs in it. The line below holds the middle half of the runs, its tick stands at their median.',
    counts: `${runs} runs`,
    drawing: {
      kind: 'density',
      bins,
      middle: {
        low: lower ?? Number.NaN,
        median: median ?? Number.NaN,
        high: upper ?? Number.NaN,
        label: 'middle half of the runs, with their median',
      },
      reference: { value: shown(chosen.estimateWhPerKm), label: `estimate ${estimate}` },
      axisLabel: `normalised consumption, ${symbol}`,
      firstRow: quantilesWhPerKm.length,
    },
    table: {
      caption: `How the runs of ${view.title} lie at ${chosen.classLabel}: shares, then bars`,
      columns: [
        { header: 'Share of runs that used less, or runs in a bar' },
        { header: 'Normalised', unit: symbol },
      ],
      rows: [
        ...quantilesWhPerKm.map((whPerKm, index) => [SHARES[index] ?? '', consumptionNumber(whPerKm, unit)]),
        ...bins.map(({ from, to, count }) => [
          `${count} ${count === 1 ? 'run' : 'runs'}`,
          [from, to]
            .toSorted((a, b) => a - b)
            .map((end) => formatNumber(end, 1))
            .join(' to '),
        ]),
      ],
    },
  };
}
