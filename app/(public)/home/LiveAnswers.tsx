import { AnswerBlock } from '@/app/ui/answers/AnswerBlock';
import { Figure } from '@/app/ui/figures/Figure';
import { Link } from '@/app/ui/Link';
import { answerOf } from '@/lib/answers/answer';
import type { LiveAnswer } from '@/lib/registry/home/liveAnswers';
import type { Display } from '@/lib/units/display';
import { IntervalWarning } from '../IntervalWarning';
import { answerFigure, questionOf } from './answerFigure';
import { answerHref } from './answerHref';

/** What single changes did, the best-supported first: each a sentence on its figure. */
export function LiveAnswers({ answers, display }: { answers: readonly LiveAnswer[]; display: Display }) {
  const [first] = answers;
  if (first === undefined) return null;
  const classes = new Map(answers.map((answer) => [answer.classKey, answer]));
  return (
    <section aria-labelledby="answers-title" id="answers">
      <h2 id="answers-title" className="sr-only">
        What single changes did
      </h2>
      <ul className="grid gap-x-10 gap-y-8 lg:grid-cols-3">
        {answers.map((answer) => (
          <li
            key={`${answer.classKey} ${answer.setup.slug}`}
            className="flex min-w-0 max-w-[34rem] flex-col lg:row-span-3 lg:grid lg:grid-rows-subgrid lg:gap-y-0"
          >
            <h3 className="mb-3 border-t border-rule-strong pt-3">
              <Link className="link text-ink" href={answerHref(answer)}>
                {answer.setup.title}
              </Link>
              <span className="mt-0.5 block font-sans text-sm font-normal text-ink-soft">
                {answer.model}, at {answer.classLabel}
              </span>
            </h3>
            <AnswerBlock answer={answerOf(answer, questionOf(answer), display)} />
            <Figure figure={answerFigure(answer, display)} isSmall />
          </li>
        ))}
      </ul>
      <p className="mt-4 max-w-[46rem] text-sm text-ink-soft">
        The dot is the best estimate. The thick bar holds the true difference in 95 of 100 cases, if this were
        the only comparison; the thin bar also allows for every other comparison of the ranking. Strokes on
        the thin bar, where an answer is only probable, allow for those of its model. The upright line is no
        difference from the car it is compared with.
      </p>
      {[...classes.values()].map(({ classKey, classLabel, world, faults }) => (
        <IntervalWarning
          key={classKey}
          classKey={classKey}
          classLabel={classLabel}
          world={world}
          faults={faults}
        />
      ))}
    </section>
  );
}
