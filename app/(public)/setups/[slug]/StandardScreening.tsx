import { statisticText } from '@/app/runDossier/screeningWords';
import { DataTable } from '@/app/ui/DataTable';
import { Disclosure } from '@/app/ui/Disclosure';
import { Figure } from '@/app/ui/figures/Figure';
import type { ShownCar } from '@/lib/registry/setups/setupSessions';
import type { ScreenedExtreme } from '@/lib/stats/screening';
import type { Display } from '@/lib/units/display';
import { carWords } from './carWords';
import { mandelFigure, type StandardShown } from './mandelFigure';
import type { ClassOfFigure, SetupOfFigure } from './setupSource';

const TEST_WORDS: Record<ScreenedExtreme['test'], string> = {
  cochran: 'Cochran: the most scattered car',
  grubbsHigh: 'Grubbs: the highest mean',
  grubbsLow: 'Grubbs: the lowest mean',
};

const STANDS_OUT: Record<ScreenedExtreme['test'], (car: string) => string> = {
  cochran: (car) => `The runs of ${car}, scatter more than those of the other cars`,
  grubbsHigh: (car) => `The mean of ${car}, lies above those of the other cars`,
  grubbsLow: (car) => `The mean of ${car}, lies below those of the other cars`,
};

interface StandardScreeningProps {
  screening: StandardShown;
  cars: readonly ShownCar[];
  view: SetupOfFigure;
  chosen: ClassOfFigure;
  display: Display;
}

/** Cochran and Grubbs, and Mandel's h and k of every car. */
export function StandardScreening({ screening, cars: names, view, chosen, display }: StandardScreeningProps) {
  const { extremes } = screening;
  const flagged = extremes.filter(({ verdict }) => verdict !== 'consistent');
  const named = (key: string) => carWords(names, key);
  return (
    <>
      <p className="mb-4 max-w-[46rem]">
        {flagged.length === 0
          ? 'No car stands out, neither by its mean nor by how its runs scatter.'
          : flagged
              .map(({ test, key, verdict }) => `${STANDS_OUT[test](named(key))}: ${byHowMuch(verdict)}.`)
              .join(' ')}
      </p>
      <Disclosure
        title="How the cars were tested"
        says="Two tests of ISO 5725-2, the standard for judging measuring methods, ask whether a car’s runs scatter too much (Cochran) and whether its mean lies too far out (Grubbs). Mandel’s h and k show the same for every car: h how far its mean lies out, k how its runs scatter."
      >
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
        {(['h', 'k'] as const).map((of) => (
          <Figure key={of} figure={mandelFigure(of, screening, names, view, chosen, display)} />
        ))}
      </Disclosure>
    </>
  );
}

function byHowMuch(verdict: ScreenedExtreme['verdict']): string {
  return verdict === 'outlier'
    ? 'far more than luck would bring about, so a person looks at it'
    : 'more than luck alone would usually bring about';
}
