import { AnswerBlock } from '@/app/ui/answers/AnswerBlock';
import { type AnswerNumbers, answerOf, bySureness } from '@/lib/answers/answer';
import type { FactorEffect } from '@/lib/registry/factors/effects';
import type { FactorsView } from '@/lib/registry/factors/factors';
import type { Display } from '@/lib/units/display';
import { levelsAsked, modelsText } from './words';

/** The surest of all answers, in one sentence before the figure that holds them all. */
export function SurestAnswer({
  factors,
  classLabel,
  display,
}: Pick<FactorsView, 'factors' | 'classLabel'> & { display: Display }) {
  const [surest] = factors
    .flatMap(({ effects }) => effects)
    .flatMap((effect): { effect: FactorEffect; answer: AnswerNumbers; of: string }[] =>
      effect.pooled === null
        ? effect.models.map((answer) => ({ effect, answer, of: answer.model }))
        : [{ effect, answer: effect.pooled, of: `${modelsText(effect.pooled.models)} together` }],
    )
    .filter(({ answer }) => answer.word === 'settled' || answer.word === 'probable')
    .sort((a, b) => bySureness(a.answer, b.answer));
  if (surest === undefined) return null;
  return (
    <AnswerBlock
      answer={answerOf(surest.answer, levelsAsked(surest.effect), display)}
      heading={`The surest answer at ${classLabel}: ${surest.of}`}
    />
  );
}
