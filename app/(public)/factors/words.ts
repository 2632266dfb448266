import type { AnswerQuestion } from '@/lib/answers/answer';
import type { FactorEffect } from '@/lib/registry/factors/effects';
import type { SpeedAnswer, SpeedStepView } from '@/lib/registry/factors/speeds';
import { type FactorKey, factorLabel } from '@/lib/run/factors';
import { LEAST_GROUPS } from '@/lib/stats/factors/pooledEffect';
import { placeForInterval } from '@/lib/units/digits';
import type { Display } from '@/lib/units/display';
import { THIN_SPACE } from '@/lib/units/format';
import { changeWords, percentEndsIn, percentIn } from '@/lib/units/sense';
import { showNumber } from '@/lib/units/show';

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

/** "That is about 10 % more for each 10 km/h."; '' where the interval gives no direction. */
export function perTenText(answer: SpeedAnswer, display: Display): string {
  const { percent, pointwise, word, perTenKmhPercent } = answer;
  if (percent === null || pointwise === null || word === null || word === 'undecided') return '';
  const unit = display.consumption;
  // as finely as the step itself is known, brought to 10 km/h
  const share = Math.abs(perTenKmhPercent / percent);
  const [low, high] = percentEndsIn(unit, pointwise);
  const place = placeForInterval(low * share, high * share);
  const size = `${showNumber(Math.abs(percentIn(unit, perTenKmhPercent)), place, display)} %`;
  return `That is about ${changeWords(perTenKmhPercent, size, unit)} for each 10${THIN_SPACE}km/h.`;
}
