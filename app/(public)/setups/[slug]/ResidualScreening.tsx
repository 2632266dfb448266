import Link from 'next/link';
import { chanceWords, statisticText } from '@/app/runDossier/screeningWords';
import { DataTable } from '@/app/ui/DataTable';
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
        {apart} Nor can each run be held against the others yet: too few runs, or no known spread.
      </p>
    );
  }
  const flagged = runs.filter(({ verdict }) => verdict !== 'consistent');
  return (
    <>
      <p className="mb-4 max-w-[46rem]">
        {apart} Each run is held against what the others let expect instead, and{' '}
        {flaggedCount === 0
          ? `none of the ${runCount} is flagged.`
          : `${flaggedCount} of the ${runCount} ${flaggedCount === 1 ? 'is' : 'are'} flagged:`}
      </p>
      {flagged.length === 0 ? null : (
        <ResidualTable
          display={display}
          caption={
            flagged.length === flaggedCount
              ? 'Flagged runs'
              : `The ${flagged.length} flagged runs farthest off`
          }
          rows={flagged}
        />
      )}
      <details className="mt-4 text-sm">
        <summary className="disclosure">
          {runs.length === runCount
            ? 'All screened runs'
            : `${runs.length} of ${runCount} screened runs: the flagged and the latest`}
        </summary>
        <ResidualTable
          display={display}
          caption="Externally studentised leave-one-out residuals (no unit)"
          rows={runs}
        />
      </details>
    </>
  );
}

function ResidualTable({
  caption,
  rows,
  display,
}: {
  caption: string;
  rows: ByResiduals['runs'];
  display: Display;
}) {
  return (
    <DataTable
      caption={caption}
      rows={rows}
      rowKey={(row) => String(row.number)}
      columns={[
        {
          key: 'run',
          header: 'Run',
          rowHeader: true,
          cell: ({ number }) => (
            <Link className="link" href={`/runs/${number}`}>
              Run {number}
            </Link>
          ),
        },
        {
          key: 'residual',
          header: 'Studentised residual',
          align: 'end',
          cell: ({ studentised }) => statisticText(studentised, display, true),
        },
        {
          key: 'p',
          header: 'p alone',
          align: 'end',
          cell: ({ p }) => chanceWords(p, display).replace('= ', ''),
        },
        {
          key: 'pHolm',
          header: 'p by Holm',
          align: 'end',
          cell: ({ pHolm }) => chanceWords(pHolm, display).replace('= ', ''),
        },
        {
          key: 'verdict',
          header: 'Verdict',
          cell: ({ verdict }) => (verdict === 'outlier' ? 'outlier, sent to a person' : verdict),
        },
      ]}
    />
  );
}
