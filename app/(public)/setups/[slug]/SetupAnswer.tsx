import { AnswerBlock } from '@/app/ui/answers/AnswerBlock';
import { Link } from '@/app/ui/Link';
import { answerOf } from '@/lib/answers/answer';
import { consumptionSentence } from '@/lib/answers/consumptionSentence';
import type { ClassEstimate, SetupView } from '@/lib/registry/setups/setup';
import type { Display } from '@/lib/units/display';
import { compareHref } from './ClassEstimates';

interface SetupAnswerProps {
  view: SetupView;
  chosen: ClassEstimate;
  display: Display;
}

/** What the setup uses, and what it does against the car as delivered, each in a sentence. */
export function SetupAnswer({ view, chosen, display }: SetupAnswerProps) {
  const { baseline, againstBaseline, title } = view;
  const uses = consumptionSentence(chosen, { setup: title, classLabel: chosen.classLabel }, display);
  if (againstBaseline === undefined || baseline === undefined) {
    return <p className="mb-6 max-w-[46rem] font-serif text-xl leading-snug">{uses}</p>;
  }
  return (
    <>
      <AnswerBlock
        answer={answerOf(againstBaseline, { setup: title, baseline: baseline.title }, display)}
        heading={`At ${chosen.classLabel}`}
      />
      <p className="mb-6 max-w-[46rem]">
        {uses}{' '}
        <Link className="link" href={compareHref(chosen.classKey, view.world, [baseline.slug, view.slug])}>
          The evidence for the difference
        </Link>
      </p>
    </>
  );
}
