import { AnswerBlock } from '@/app/ui/answers/AnswerBlock';
import { AnswerList } from '@/app/ui/answers/AnswerList';
import { Link } from '@/app/ui/Link';
import { answerOf, bySureness } from '@/lib/answers/answer';
import { consumptionSentence } from '@/lib/answers/consumptionSentence';
import type { ModelView } from '@/lib/registry/models/model';
import type { Display } from '@/lib/units/display';
import { compareHref } from '../../setups/[slug]/ClassEstimates';

/** What the model does as delivered, and what each single change did to it, the surest first. */
export function ModelAnswers({ view, display }: { view: ModelView; display: Display }) {
  const { baseline, classKey, classLabel, changes, world } = view;
  if (baseline === undefined || classKey === undefined) return null;
  const estimate = view.setups.find(({ setupId }) => setupId === baseline.setupId)?.estimate;
  const [only, second] = changes;
  const nameOf = ({ factorLabel, to }: (typeof changes)[number]) => `${factorLabel}: ${to.label}`;
  const answer = (change: (typeof changes)[number]) =>
    answerOf(change, { setup: nameOf(change), baseline: baseline.title }, display);
  return (
    <div className="mb-6">
      {estimate === undefined ? null : (
        <p className="mb-4 max-w-[46rem] font-serif text-xl leading-snug">
          {consumptionSentence(estimate, { setup: baseline.title, classLabel }, display)}
        </p>
      )}
      {only && !second ? <AnswerBlock answer={answer(only)} /> : null}
      {second ? (
        <AnswerList
          label={`Single changes at ${classLabel}, the surest answer first`}
          rows={[...changes].sort(bySureness).map((change) => {
            const { word, line, next } = answer(change);
            return {
              key: change.setup.setupId,
              name: (
                <Link
                  className="link"
                  href={compareHref(classKey, world, [baseline.slug, change.setup.slug])}
                >
                  {nameOf(change)}
                </Link>
              ),
              word,
              text: line,
              note: next,
            };
          })}
        />
      ) : null}
    </div>
  );
}
