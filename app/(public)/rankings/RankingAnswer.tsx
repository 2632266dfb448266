import { AnswerBlock } from '@/app/ui/answers/AnswerBlock';
import { answerOf, bySureness } from '@/lib/answers/answer';
import type { RankingView } from '@/lib/registry/rankings/rankings';
import type { Display } from '@/lib/units/display';

interface RankingAnswerProps {
  view: Pick<RankingView, 'ranked' | 'plain' | 'classLabel'>;
  display: Display;
}

/** The surest saving of the page, else its surest difference: never which saves most, as sizes of one rank overlap. */
export function RankingAnswer({ view, display }: RankingAnswerProps) {
  if (view.plain !== null) return null;
  const told = view.ranked
    .flatMap(({ title, model, baseline, against }) =>
      against === null || baseline === null ? [] : [{ ...against, title, model, baseline }],
    )
    .filter(({ word }) => word === 'settled' || word === 'probable')
    .sort(bySureness);
  const saving = told.find(({ percent }) => percent !== null && percent < 0);
  const first = saving ?? told[0];
  if (first === undefined) return null;
  return (
    <AnswerBlock
      answer={answerOf(first, { setup: first.title, baseline: first.baseline.title }, display)}
      heading={`The surest ${saving === undefined ? 'difference' : 'saving'} below, at ${view.classLabel}: ${first.model}`}
    />
  );
}
