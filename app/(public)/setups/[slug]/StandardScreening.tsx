import { statisticText } from '@/app/runDossier/screeningWords';
import { DataTable } from '@/app/ui/DataTable';
import { FigureWithTable } from '@/app/ui/figures/FigureWithTable';
import type { ShownCar } from '@/lib/registry/setups/setupSessions';
import type { ScreenedCar, ScreenedExtreme } from '@/lib/stats/screening';
import type { ShownScreening } from '@/lib/stats/shownScreening';
import type { Display } from '@/lib/units/display';
import { carWords } from './carWords';
import { MandelStrip } from './MandelStrip';

const TEST_WORDS: Record<ScreenedExtreme['test'], string> = {
  cochran: 'Cochran: the most scattered car',
  grubbsHigh: 'Grubbs: the highest mean',
  grubbsLow: 'Grubbs: the lowest mean',
};

interface StandardScreeningProps {
  screening: Extract<ShownScreening, { by: 'iso5725' }>;
  cars: readonly ShownCar[];
  title: string;
  display: Display;
}

/** Cochran and Grubbs, and Mandel's h and k of every car. */
export function StandardScreening({ screening, cars: names, title, display }: StandardScreeningProps) {
  const { cars, carCount, extremes, runsEach, criticalH, criticalK } = screening;
  const flagged = extremes.filter(({ verdict }) => verdict !== 'consistent');
  const named = (key: string) => carWords(names, key);
  const summary = `ISO 5725-2 on the logarithms of ${carCount} cars on a loop, ${runsEach} runs each. A car’s runs on several days hold what the days differ by.${cars.length < carCount ? ` Shown are ${cars.length} of them: the flagged, and the latest driven.` : ''}`;
  const strips = [
    { of: 'h' as const, words: 'h: where a car’s mean lies among the means', critical: criticalH },
    { of: 'k' as const, words: 'k: how a car’s runs scatter against all', critical: criticalK },
  ];
  return (
    <>
      <p className="mb-4 max-w-[46rem]">
        {flagged.length === 0
          ? 'Neither test flags a car.'
          : flagged
              .map(({ test, key, verdict }) => `${TEST_WORDS[test]}, ${named(key)}, is ${article(verdict)}.`)
              .join(' ')}
      </p>
      <DataTable
        caption="Tests of the extremes"
        rows={extremes}
        rowKey={(row) => row.test}
        empty="The runs do not differ at all."
        columns={[
          { key: 'test', header: 'Test', rowHeader: true, cell: ({ test }) => TEST_WORDS[test] },
          { key: 'car', header: 'Car and loop', cell: ({ key }) => named(key) },
          {
            key: 'value',
            header: 'Statistic',
            align: 'end',
            cell: ({ value }) => statisticText(value, display),
          },
          {
            key: 'straggler',
            header: 'Straggler above',
            align: 'end',
            cell: ({ critical }) => statisticText(critical.straggler, display),
          },
          {
            key: 'outlier',
            header: 'Outlier above',
            align: 'end',
            cell: ({ critical }) => statisticText(critical.outlier, display),
          },
          { key: 'verdict', header: 'Verdict', cell: ({ verdict }) => verdict },
        ]}
      />
      <FigureWithTable
        caption={`Mandel’s h and k of each car. ${summary}`}
        reading={`The farther from 0, the more a car stands apart. Dashed ticks mark where a straggler begins (h ${statisticText(criticalH.straggler, display)} to either side, k ${statisticText(criticalK.straggler, display)}) and solid ones where an outlier does (h ${statisticText(criticalH.outlier, display)}, k ${statisticText(criticalK.outlier, display)}).`}
        tableCaption={`Mandel’s h and k, ${title}`}
        table={{
          columns: [
            { header: 'Car and loop' },
            { header: 'Runs' },
            { header: 'h' },
            { header: 'h says', align: 'start' },
            { header: 'k' },
            { header: 'k says', align: 'start' },
          ],
          rows: cars.map(({ key, runs, h, k }) => [
            named(key),
            String(runs),
            h ? statisticText(h.value, display, true) : '–',
            h?.verdict ?? '–',
            k ? statisticText(k.value, display) : '–',
            k?.verdict ?? '–',
          ]),
        }}
      >
        {strips.map(({ of, words, critical }) => (
          <MandelStrip
            key={of}
            title={`Mandel’s ${of} of the cars of ${title}`}
            desc={summary}
            axisLabel={`${words} (no unit)`}
            critical={critical}
            bothSides={of === 'h'}
            rows={stripRows(cars, of, named, display)}
          />
        ))}
      </FigureWithTable>
    </>
  );
}

function stripRows(
  cars: readonly ScreenedCar[],
  of: 'h' | 'k',
  named: (key: string) => string,
  display: Display,
) {
  return cars.flatMap((car) => {
    const found = car[of];
    if (found === null) return [];
    return [
      {
        key: car.key,
        label: named(car.key),
        value: found.value,
        text: statisticText(found.value, display, of === 'h'),
        verdict: found.verdict,
      },
    ];
  });
}

function article(verdict: string): string {
  return verdict === 'outlier' ? 'an outlier, sent to a person' : 'a straggler';
}
