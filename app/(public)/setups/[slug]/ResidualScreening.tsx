import { chanceWords, statisticText } from '@/app/runDossier/screeningWords';
import { type Column, DataTable } from '@/app/ui/DataTable';
import { Disclosure } from '@/app/ui/Disclosure';
import { Link } from '@/app/ui/Link';
import type { ShownScreening } from '@/lib/stats/shownScreening';
import type { Display } from '@/lib/units/display';

type ByResiduals = Extract<ShownScreening, { by: 'residuals' }>;

const REASON_WORDS: Record<ByResiduals['reason'], string> = {
  fewCars: 'they need three cars on a loop or more',
  singleRuns: 'they need two runs of each car or more',
  unequalCounts: 'they need equally many runs of every car',
};

/** Each run against what all the others let expect. */
export function ResidualScreening({ screening, display }: { screening: ByResiduals; display: Display }) {
  const { runs, runCount, flaggedCount, reason } = screening;
  const apart = `The tests of ISO 5725-2 (Cochran, Grubbs, Mandel’s h and k) do not apply here: ${REASON_WORDS[reason]}.`;
  if (runs.length === 0) {
    return (
      <p className="max-w-[46rem]">
        Whether a run stands out cannot be said yet: there are too few runs, or how far runs usually lie apart
        is not known.
      </p>
    );
  }
  const flagged = runs.filter(({ verdict }) => verdict !== 'consistent');
  return (
    <>
      <p className="mb-4 max-w-[46rem]">
        Each run is held against what all the others would lead one to expect.{' '}
        {flaggedCount === 0
          ? `None of the ${runCount} stands out.`
          : `${flaggedCount} of the ${runCount} ${flaggedCount === 1 ? 'stands' : 'stand'} out:`}
      </p>
      {flagged.length === 0 ? null : (
        <ResidualTable
          caption={
            flagged.length === flaggedCount
              ? 'Runs that stand out'
              : `The ${flagged.length} runs that stand out most`
          }
          rows={flagged}
          columns={[RUN, chanceColumn(display), VERDICT]}
        />
      )}
      <Disclosure
        title={
          runs.length === runCount
            ? 'All runs, and how they were tested'
            : `${runs.length} of ${runCount} runs, and how they were tested: those that stand out and the latest`
        }
        says={`The number beside a run is how far it lies from what the others would lead one to expect, counted in steps of the usual scatter (its studentised residual, with the run left out). ${apart}`}
      >
        <ResidualTable
          caption="Externally studentised leave-one-out residuals (no unit)"
          rows={runs}
          columns={[RUN, ...testColumns(display), VERDICT]}
        />
      </Disclosure>
    </>
  );
}

type ScreenedRun = ByResiduals['runs'][number];

const VERDICT_WORDS: Record<ScreenedRun['verdict'], string> = {
  consistent: 'does not stand out',
  straggler: 'stands out',
  outlier: 'stands far out, a person looks at it',
};

const RUN: Column<ScreenedRun> = {
  key: 'run',
  header: 'Run',
  rowHeader: true,
  cell: ({ number }) => (
    <Link className="link" href={`/runs/${number}`}>
      Run {number}
    </Link>
  ),
};

const VERDICT: Column<ScreenedRun> = {
  key: 'verdict',
  header: 'Verdict',
  cell: ({ verdict }) => VERDICT_WORDS[verdict],
};

const bareChance = (p: number, display: Display) => chanceWords(p, display).replace('= ', '');

/** How likely luck alone would set some run of all so far apart. */
const chanceColumn = (display: Display): Column<ScreenedRun> => ({
  key: 'pHolm',
  header: 'Chance of as much by luck, all runs counted',
  align: 'end',
  cell: ({ pHolm }) => bareChance(pHolm, display),
});

const testColumns = (display: Display): Column<ScreenedRun>[] => [
  {
    key: 'residual',
    header: 'Studentised residual',
    align: 'end',
    cell: ({ studentised }) => statisticText(studentised, display, true),
  },
  { key: 'p', header: 'p alone', align: 'end', cell: ({ p }) => bareChance(p, display) },
  { key: 'pHolm', header: 'p by Holm', align: 'end', cell: ({ pHolm }) => bareChance(pHolm, display) },
];

interface ResidualTableProps {
  caption: string;
  rows: readonly ScreenedRun[];
  columns: readonly Column<ScreenedRun>[];
}

function ResidualTable(props: ResidualTableProps) {
  return <DataTable {...props} rowKey={({ number }) => String(number)} />;
}
