import { percent } from '@/app/runDossier/numbers';
import type { FigureDescription } from '@/app/ui/figures/description';
import type { SetupView } from '@/lib/registry/setups/setup';
import type { CarDeviation } from '@/lib/stats/setupShrinkage';
import { fromCanonical, type UnitCode, unitSymbol } from '@/lib/units/unit';
import { consumptionNumber, consumptionText } from '../../consumptionText';
import { type ClassOfFigure, type SetupOfFigure, setupSource } from './setupSource';
import { spreadRows } from './spreadRows';

interface Spread {
  view: SetupOfFigure & Pick<SetupView, 'sessions'>;
  chosen: ClassOfFigure;
  cars: readonly CarDeviation[];
  /** Of which these are the latest. */
  of: { cars: number; sessions: number };
}

/** How far each car and day lies from the setup's estimate, and how much of that the model believes. */
export function spreadFigure({ view, chosen, cars, of }: Spread, unit: UnitCode): FigureDescription {
  const rows = spreadRows(cars, view.sessions);
  const days = rows.length - cars.length;
  const shown = (whPerKm: number) => fromCanonical(whPerKm, unit);
  const estimate = consumptionText(chosen.estimateWhPerKm, unit);
  const counts = `${of.cars} ${of.cars === 1 ? 'car' : 'cars'} on a loop, ${of.sessions} ${of.sessions === 1 ? 'session' : 'sessions'}`;
  const title = `${view.title} at ${chosen.classLabel}: ${counts}, against the estimate of ${estimate}.${days < of.sessions ? ` Drawn are the latest ${days} sessions, with their cars.` : ''}`;
  return {
    ...setupSource('setup-spread', view, chosen, unit),
    title,
    desc: rows
      .filter(({ day }) => day === '')
      .map((row) => `${row.car}: ${row.effect}, ${row.interval}`)
      .join('. '),
    reading:
      'Read each line from the ring, the mean as normalised, to the diamond, what the model believes: the longer the line, the less of the deviation it believes. A day’s percentage comes on top of its car’s; the 95 % intervals are those of the percentages.',
    counts,
    drawing: {
      kind: 'spread',
      rows: rows.map((row) => ({
        key: row.key,
        label: row.day === '' ? row.car : row.day,
        ...(row.day === '' ? { detail: `${row.runs} ${row.runs === 1 ? 'run' : 'runs'}` } : {}),
        mean: shown(row.meanWhPerKm),
        believed: shown(row.believedWhPerKm),
        text: row.day === '' ? row.effect : `day ${row.effect}`,
        note: row.interval,
        strong: row.day === '',
      })),
      estimate: { value: shown(chosen.estimateWhPerKm), label: `estimate ${estimate}` },
      axisLabel: `normalised consumption, ${unitSymbol(unit)}`,
    },
    table: {
      caption: `Cars and days of ${view.title} at ${chosen.classLabel}`,
      columns: [
        { header: 'Car and loop' },
        { header: 'Day', align: 'start' },
        { header: 'Runs' },
        { header: 'Mean as normalised', unit: unitSymbol(unit) },
        { header: 'From the estimate', unit: 'in consumption' },
        { header: 'Believed of it', unit: 'in consumption' },
        { header: '95 % interval' },
        { header: 'Share kept' },
      ],
      rows: rows.map((row) => [
        row.car,
        row.day === '' ? 'all days' : row.day,
        String(row.runs),
        consumptionNumber(row.meanWhPerKm, unit),
        percent(row.fromEstimate, 1, true),
        row.effect,
        row.interval,
        row.kept,
      ]),
    },
  };
}
