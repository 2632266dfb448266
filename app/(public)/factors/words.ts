import { type AnswerQuestion, shortAnswer } from '@/lib/answers/answer';
import type { FactorEffect } from '@/lib/registry/factors/effects';
import type { SpeedAnswer, SpeedStepView } from '@/lib/registry/factors/speeds';
import { type FactorKey, factorLabel } from '@/lib/run/factors';
import { LEAST_GROUPS } from '@/lib/stats/factors/pooledEffect';
import { percentOf } from '@/lib/stats/orientedContrast';
import type { Display } from '@/lib/units/display';
import { THIN_SPACE } from '@/lib/units/format';

/** The key of cruise speed among the factors' pages: it is none of a setup's. */
export const CRUISE_SPEED = 'cruiseSpeed';

const QUESTIONS: Readonly<Record<FactorKey, string>> = {
  driveMode: 'What does the drive mode do?',
  rideHeight: 'What does the ride height do?',
  wheelTyre: 'What do wheels and tyres do?',
  tyrePressure: 'What does the tyre pressure do?',
  load: 'What does a heavier load do?',
  openingsCovers: 'What do openings and covers do?',
  roofHitch: 'What do roof boxes, racks and bike carriers cost?',
  cabinClimate: 'What do heating and cooling cost?',
};

export const SPEED_QUESTION = `What does driving 10${THIN_SPACE}km/h faster cost?`;

/** A factor as somebody would ask for it. */
export function questionOf(factor: string): string {
  return Object.hasOwn(QUESTIONS, factor)
    ? QUESTIONS[factor as FactorKey]
    : `What does ${factorLabel(factor).toLowerCase()} do?`;
}

/** The two levels as setups with nothing else changed are called: “Ride height: Low”. */
export function levelsAsked({
  factor,
  level,
  baseline,
}: Pick<FactorEffect, 'factor' | 'level' | 'baseline'>): AnswerQuestion {
  const label = factorLabel(factor);
  return { setup: `${label}: ${level}`, baseline: `${label}: ${baseline}` };
}

export const speedsAsked = ({ slow, fast }: Pick<SpeedStepView, 'slow' | 'fast'>): AnswerQuestion => ({
  setup: `a steady ${fast.label}`,
  baseline: `a steady ${slow.label}`,
  areWords: true,
});

const NUMBERS = ['no', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine'];

/** "three models" */
export function modelsText(count: number): string {
  return `${NUMBERS[count] ?? count} ${count === 1 ? 'model' : 'models'}`;
}

/** Why there is no common number, and what would make one; '' where there is one. */
export function tooFewText(driven: number): string {
  if (driven >= LEAST_GROUPS) return '';
  return `${capital(modelsText(driven))} so far: from three on, a number is worked out for all of them together.`;
}

export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** "That is 10 % more (8 to 12) for each 10 km/h."; '' where the interval gives no direction. */
export function perTenText(answer: SpeedAnswer, display: Display): string {
  const { percent, word, perTenKmhPercent } = answer;
  if (percent === null || word === null || word === 'undecided') return '';
  // Taken evenly on the way from one speed to the other: the same share of every logarithm.
  const share = Math.log1p(perTenKmhPercent / 100) / Math.log1p(percent / 100);
  const brought = (end: number) => percentOf(share * Math.log1p(end / 100));
  const ends = (interval: readonly [number, number] | null): [number, number] | null =>
    interval && [brought(interval[0]), brought(interval[1])];
  const perTen = {
    ...answer,
    percent: perTenKmhPercent,
    pointwise: ends(answer.pointwise),
    ofModel: ends(answer.ofModel),
    simultaneous: ends(answer.simultaneous),
  };
  return `That is ${shortAnswer(perTen, display)} for each 10${THIN_SPACE}km/h.`;
}
