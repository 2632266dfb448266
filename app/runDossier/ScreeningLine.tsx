import type { RunStanding } from '@/lib/registry/review/runStanding';
import { chanceWords, levelText, levelWords, statisticText } from './screeningWords';

/** Would this run be flagged among the runs of its setup? */
export function ScreeningLine({ screening }: { screening: RunStanding['screening'] }) {
  if (screening === null) {
    return (
      <p className="mt-3 max-w-[38rem] text-sm">
        Screening: not possible yet, for the published fit knows no spread for this run.
      </p>
    );
  }
  const { verdict, studentised, pHolm, among } = screening;
  return (
    <p className="mt-3 max-w-[38rem] text-sm">
      Screening: <strong>{VERDICT_SENTENCE[verdict]}</strong>
      {verdict === 'straggler' ? ` at ${levelText(screening.stragglerLevel)}` : ''}
      {verdict === 'outlier' ? ` at ${levelText(screening.outlierLevel)}` : ''} among the {among} screened
      runs of its setup, itself counted. Externally studentised residual {statisticText(studentised, true)}; p{' '}
      {chanceWords(pHolm)} by Holm’s adjustment (protocol in force: {levelWords(screening)}).
    </p>
  );
}

const VERDICT_SENTENCE = {
  consistent: 'would not be flagged',
  straggler: 'would be flagged as a straggler',
  outlier: 'would be flagged as an outlier, to be judged by a person,',
} as const;
