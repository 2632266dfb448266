import { AnswerList, type AnswerRow } from '@/app/ui/answers/AnswerList';
import { Link } from '@/app/ui/Link';
import { Section } from '@/app/ui/Section';
import { answerOf } from '@/lib/answers/answer';
import type { FactorEffect } from '@/lib/registry/factors/effects';
import type { FactorsView } from '@/lib/registry/factors/factors';
import type { SpeedStepView } from '@/lib/registry/factors/speeds';
import type { Display } from '@/lib/units/display';
import { levelsAsked, modelsText, perTenText, questionOf, SPEED_QUESTION, speedsAsked } from './words';

/** A question with its answers, a line each; the whole is a click away. */
export function FactorLine({
  factor,
  href,
  display,
}: {
  factor: FactorsView['factors'][number];
  href: string;
  display: Display;
}) {
  const question = questionOf(factor.key);
  return (
    <Section
      id={factor.key}
      title={
        <Link className="link" href={href}>
          {question}
        </Link>
      }
    >
      <AnswerList
        rows={factor.effects.flatMap((effect) => effectRows(effect, display))}
        label={`Answers to: ${question}`}
      />
    </Section>
  );
}

function effectRows(effect: FactorEffect, display: Display): AnswerRow[] {
  const against = `${effect.level} against ${effect.baseline.toLowerCase()}`;
  if (effect.pooled !== null) {
    const { word, line, next } = answerOf(effect.pooled, levelsAsked(effect), display);
    return [
      {
        key: effect.levelId,
        name: `${against}, ${modelsText(effect.pooled.models)}`,
        word,
        text: line,
        note: next,
      },
    ];
  }
  return effect.models.map((model) => {
    const { word, line, next } = answerOf(model, levelsAsked(effect), display);
    return {
      key: model.setup.setupId,
      name: `${against}, ${model.model}`,
      word,
      text: line,
      note: next,
    };
  });
}

/** The same of cruise speed, from step to step. */
export function SpeedLine({
  steps,
  href,
  display,
}: {
  steps: readonly SpeedStepView[];
  href: string;
  display: Display;
}) {
  const rows = steps.flatMap((step): AnswerRow[] => {
    const [first] = step.models;
    const answer = step.pooled ?? first?.answer;
    if (answer == null) return [];
    const { word, line } = answerOf(answer, speedsAsked(step), display);
    return [
      {
        key: `${step.slow.key} ${step.fast.key}`,
        name: `${step.fast.label} against ${step.slow.label}, ${step.pooled === null ? first?.model : modelsText(step.pooled.groups)}`,
        word,
        text: line,
        note: perTenText(answer, display),
      },
    ];
  });
  return (
    <Section
      id="cruise-speed"
      title={
        <Link className="link" href={href}>
          {SPEED_QUESTION}
        </Link>
      }
      note="From cars that drove the same setup at both speeds."
    >
      {rows.length === 0 ? (
        <p className="max-w-[46rem] text-ink-soft">
          Not answered yet: that takes three cars of a model, each driven in one setup at both speeds.
        </p>
      ) : (
        <AnswerList rows={rows} label={`Answers to: ${SPEED_QUESTION}`} />
      )}
    </Section>
  );
}
