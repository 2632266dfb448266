import { AnswerBlock } from '@/app/ui/answers/AnswerBlock';
import { AnswerList } from '@/app/ui/answers/AnswerList';
import { answerOf, bySureness } from '@/lib/answers/answer';
import type { ComparedSetup, CompareView } from '@/lib/registry/comparisons/compare';
import type { Display } from '@/lib/units/display';
import { differenceNumbers } from './differenceNumbers';

interface AnswersProps {
  view: CompareView;
  baseline: ComparedSetup;
  display: Display;
}

/** The answer to what was asked: a sentence for one setup, a line each for several. */
export function Answers({ view, baseline, display }: AnswersProps) {
  const [only, second] = view.differences;
  if (only && !second) {
    const question = { setup: only.setup.name, baseline: baseline.name };
    return <AnswerBlock answer={answerOf(differenceNumbers(only), question, display)} />;
  }
  const rows = [...view.differences].sort(bySureness).map((difference) => {
    const question = { setup: difference.setup.name, baseline: baseline.name };
    const { word, line, next } = answerOf(differenceNumbers(difference), question, display);
    return {
      key: difference.setup.setupId,
      name: difference.setup.name,
      word,
      text: line,
      note: next,
    };
  });
  return <AnswerList rows={rows} label={`Each setup against ${baseline.name}, the surest answer first`} />;
}
