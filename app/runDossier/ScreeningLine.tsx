import type { RunStanding } from '@/lib/registry/review/runStanding';
import type { Display } from '@/lib/units/display';
import { chanceWords, levelText, levelWords, statisticText } from './screeningWords';

/** Would this run be flagged among the runs of its setup? */
export function ScreeningLine({
  screening,
  display,
}: {
  screening: RunStanding['screening'];
  display: Display;
}) {
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
      {verdict === 'straggler' ? ` at ${levelText(screening.stragglerLevel, display)}` : ''}
      {verdict === 'outlier' ? ` at ${levelText(screening.outlierLevel, display)}` : ''} among the {among}{' '}
      screened runs of its setup, itself counted. Externally studentised residual{' '}
      {statisticText(studentised, display, true)}; p {chanceWords(pHolm, display)} by Holm’s adjustment
      (protocol in force: {levelWords(screening, display)}).
    </p>
  );
}

const VERDICT_SENTENCE = {
  consistent: 'would not be flagged',
  straggler: 'would be flagged as a straggler',
  outlier: 'would be flagged as an outlier, to be judged by a person,',
} as const;
