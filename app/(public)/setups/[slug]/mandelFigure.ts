import { statisticText } from '@/app/runDossier/screeningWords';
import type { FigureDescription } from '@/app/ui/figures/description';
import type { ShownCar } from '@/lib/registry/setups/setupSessions';
import type { ShownScreening } from '@/lib/stats/shownScreening';
import type { Display } from '@/lib/units/display';
import { carWords } from './carWords';
import { type ClassOfFigure, type SetupOfFigure, setupSource } from './setupSource';

export type StandardShown = Extract<ShownScreening, { by: 'iso5725' }>;

const WORDS = {
  h: 'h: where a car’s mean lies among the means',
  k: 'k: how a car’s runs scatter against all',
} as const;

const MEANING = {
  h: 'How far from the others the means lie',
  k: 'How the runs scatter',
} as const;

/** Mandel's h or k of each car of a setup. */
export function mandelFigure(
  of: 'h' | 'k',
  screening: StandardShown,
  names: readonly ShownCar[],
  view: SetupOfFigure,
  chosen: ClassOfFigure,
  display: Display,
): FigureDescription {
  const { cars, carCount, runsEach, criticalH, criticalK } = screening;
  const critical = of === 'h' ? criticalH : criticalK;
  const named = (key: string) => carWords(names, key);
  const rows = cars.flatMap((car, row) => {
    const found = car[of];
    if (found === null) return [];
    return [
      {
        key: car.key,
        label: named(car.key),
        value: found.value,
        text: statisticText(found.value, display, of === 'h'),
        verdict: found.verdict,
        row,
      },
    ];
  });
  const flagged = rows.filter(({ verdict }) => verdict !== 'consistent').length;
  const either = of === 'h' ? ' to either side' : '';
  const shownOf =
    cars.length < carCount
      ? ` Shown are ${cars.length} of ${carCount}: the flagged, and the latest driven.`
      : '';
  return {
    ...setupSource(`setup-${of}`, view, chosen, display),
    title: `${MEANING[of]} (Mandel’s ${of}), ${carCount} cars of ${view.title} at ${chosen.classLabel}: ${flagged === 0 ? 'none stands' : `${flagged} ${flagged === 1 ? 'stands' : 'stand'}`} apart.${shownOf}`,
    desc: rows.map((row) => `${row.label}: ${row.text}, ${row.verdict}`).join('. '),
    reading: `The farther from 0, the more a car stands apart. Dashed ticks mark where a straggler begins (${statisticText(critical.straggler, display)}${either}), solid ones where an outlier does (${statisticText(critical.outlier, display)}). A car’s runs on several days hold what the days differ by.`,
    counts: `ISO 5725-2 on the logarithms of ${carCount} cars on a loop · ${runsEach} runs each`,
    drawing: {
      kind: 'mandel',
      axisLabel: `${WORDS[of]} (no unit)`,
      critical,
      bothSides: of === 'h',
      rows,
    },
    table: {
      caption: `Mandel’s ${of}, ${view.title}`,
      columns: [
        { header: 'Car and loop' },
        { header: 'Runs' },
        { header: of },
        { header: `${of} says`, align: 'start' },
      ],
      rows: cars.map((car) => {
        const found = car[of];
        return [
          named(car.key),
          String(car.runs),
          found ? statisticText(found.value, display, of === 'h') : '–',
          found?.verdict ?? '–',
        ];
      }),
    },
  };
}
