import { AnswerBlock } from '@/app/ui/answers/AnswerBlock';
import { AnswerList, type AnswerRow } from '@/app/ui/answers/AnswerList';
import { answerOf } from '@/lib/answers/answer';
import type { FactorEffect } from '@/lib/registry/factors/effects';
import type { Display } from '@/lib/units/display';
import { answered } from './effectFigure';
import { capital, levelsAsked, modelsText, tooFewText } from './words';

interface EffectAnswerProps {
  effect: FactorEffect;
  display: Display;
}

/** What a level does, in one sentence: for all models, or each by itself where they are too few. */
export function EffectAnswer({ effect, display }: EffectAnswerProps) {
  const { pooled } = effect;
  if (pooled !== null) {
    return (
      <AnswerBlock
        answer={answerOf(pooled, levelsAsked(effect), display)}
        heading={`${capital(modelsText(pooled.models))} together`}
      />
    );
  }
  const [only] = effect.models;
  return (
    <>
      {only !== undefined && effect.models.length === 1 ? (
        <AnswerBlock answer={answerOf(only, levelsAsked(effect), display)} heading={only.model} />
      ) : (
        <AnswerList
          rows={effect.models.map((model) => modelRow(model, effect, display))}
          label="Model by model"
        />
      )}
      <p className="mb-6 max-w-[46rem] text-ink-soft">{tooFewText(answered(effect))}</p>
    </>
  );
}

function modelRow(model: FactorEffect['models'][number], effect: FactorEffect, display: Display): AnswerRow {
  const { word, line, next } = answerOf(model, levelsAsked(effect), display);
  return {
    key: model.setup.setupId,
    name: model.model,
    word,
    text: line,
    note: next,
  };
}
