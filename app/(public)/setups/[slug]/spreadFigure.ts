import type { FigureDescription } from '@/app/ui/figures/description';
import type { SetupView } from '@/lib/registry/setups/setup';
import { dayWords } from '@/lib/run/localDate';
import type { CarDeviation } from '@/lib/stats/setupShrinkage';
import type { Display } from '@/lib/units/display';
import { senseOf } from '@/lib/units/sense';
import { fromCanonical, unitSymbol } from '@/lib/units/unit';
import { consumptionNumber, fittedText } from '../../consumptionText';
import { type ClassOfFigure, type SetupOfFigure, setupSource } from './setupSource';
import { spreadRows } from './spreadRows';

interface Spread {
  view: SetupOfFigure & Pick<SetupView, 'sessions'>;
  chosen: ClassOfFigure;
  cars: readonly CarDeviation[];
  /** Of which these are the latest. */
  of: { cars: number; sessions: number };
}

/** How far each car and day lies from the setup's estimate, and how much of that the fit believes. */
export function spreadFigure({ view, chosen, cars, of }: Spread, display: Display): FigureDescription {
  const unit = display.consumption;
  const rows = spreadRows(cars, view.sessions, display);
  const days = rows.length - cars.length;
  const shown = (whPerKm: number) => fromCanonical(whPerKm, unit);
  const estimate = fittedText(chosen, display);
  const counts = `${of.cars} ${of.cars === 1 ? 'car' : 'cars'} on a loop, ${of.sessions} ${of.sessions === 1 ? 'session' : 'sessions'}`;
  const title = `${view.title} at ${chosen.classLabel}: ${counts}, against the estimate of ${estimate}.${days < of.sessions ? ` Drawn are the latest ${days} sessions, with their cars.` : ''}`;
  return {
    ...setupSource('setup-spread', view, chosen, display),
    title,
    desc: rows
      .filter(({ day }) => day === '')
      .map((row) => `${row.car}: ${row.effect}, ${row.interval}`)
      .join('. '),
    reading:
      'Read each line from the ring, the mean of the runs, to the diamond, what is believed of it: the longer the line, the less is believed. A day’s percentage comes on top of its car’s; the thin bar is the 95 % interval of the percentage, with the number that it moves held.',
    counts,
    drawing: {
      kind: 'spread',
      rows: rows.map((row) => ({
        key: row.key,
        label: row.day === '' ? row.car : dayWords(row.day),
        ...(row.day === '' ? { detail: `${row.runs} ${row.runs === 1 ? 'run' : 'runs'}` } : {}),
        mean: shown(row.meanWhPerKm),
        believed: shown(row.believedWhPerKm),
        ...(row.ends === null ? {} : { ends: ordered(row.ends.map(shown)) }),
        text: row.day === '' ? row.effect : `day ${row.effect}`,
        note: row.interval,
        strong: row.day === '',
      })),
      estimate: { value: shown(chosen.estimateWhPerKm), label: `estimate ${estimate}` },
      axisLabel: `${senseOf(unit).quantity} at reference conditions, ${unitSymbol(unit)}`,
    },
    table: {
      caption: `Cars and days of ${view.title} at ${chosen.classLabel}`,
      columns: [
        { header: 'Car and loop' },
        { header: 'Day', align: 'start' },
        { header: 'Runs' },
        { header: 'Mean of the runs', unit: unitSymbol(unit) },
        { header: 'From the estimate', unit: `in ${senseOf(unit).quantity}` },
        { header: 'Believed of it', unit: `in ${senseOf(unit).quantity}` },
        { header: '95 % interval' },
        { header: 'Share believed' },
      ],
      rows: rows.map((row) => [
        row.car,
        row.day === '' ? 'all days' : dayWords(row.day),
        String(row.runs),
        consumptionNumber(row.meanWhPerKm, display),
        row.fromEstimate,
        row.effect,
        row.interval,
        row.kept,
      ]),
    },
  };
}

/** In a unit of distance per energy the ends change places. */
function ordered(ends: readonly number[]): [number, number] {
  return [Math.min(...ends), Math.max(...ends)];
}
