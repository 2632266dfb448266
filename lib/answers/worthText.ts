import { setupInText } from '@/lib/run/setupTitle';
import { placeForUncertainty } from '@/lib/units/digits';
import type { Display } from '@/lib/units/display';
import { showNumber } from '@/lib/units/show';
import { type Answer, type AnswerNumbers, answerOf } from './answer';

/** A day that could be driven, as it was reckoned. */
export interface WorthNumbers extends AnswerNumbers {
  day: 'A B B A' | 'A B' | 'A' | 'B';
  hours: number;
  isChargingKnown: boolean;
  anyCar: boolean;
  baseline: { title: string };
  setup: { title: string };
  loop: { name: string };
  halfWidthPercent: number;
  halfWidthAfterPercent: number;
}

export interface WorthText {
  /** What to drive, where and for how long. */
  todo: string;
  /** What it would do to what is known. */
  gain: string;
  /** What is known now, and what would settle it. */
  now: Answer;
}

/**
 * A day worth driving in everyday words, with what it would settle.
 *
 * @param ownCar "in Blue one", where it is said of a car of the reader's
 */
export function worthText(worth: WorthNumbers, display: Display, ownCar?: string): WorthText {
  const [setup, baseline] = [worth.setup, worth.baseline].map(({ title }) => setupInText(title));
  const runs = {
    'A B B A': `two runs each of ${setup} and ${baseline} in one day, there and back (A B B A, A being ${baseline})`,
    'A B': `one run each of ${setup} and ${baseline} in one day`,
    A: `one run of ${baseline}`,
    B: `one run of ${setup}`,
  }[worth.day];
  const car =
    ownCar ??
    (worth.anyCar ? 'in any car of the model' : 'in a car of the model that has been driven here before');
  const isOne = Math.round(10 * worth.hours) === 10;
  const length = isOne ? 'an hour' : `${showNumber(worth.hours, worth.hours < 10 ? 1 : 0, display)} hours`;
  const hours = `about ${length}${worth.isChargingKnown ? ' with charging' : ', charging apart'}`;
  const place = placeForUncertainty(worth.halfWidthAfterPercent / 2);
  const half = (percent: number) => `±${showNumber(percent, place, display)}`;
  return {
    todo: `Drive ${runs}, ${car}, on ${worth.loop.name}: ${hours}.`,
    gain: `How ${setup} differs from ${baseline} is now known to ${half(worth.halfWidthPercent)} %; such a day would bring that to about ${half(worth.halfWidthAfterPercent)} %.`,
    now: answerOf(worth, { setup: worth.setup.title, baseline: worth.baseline.title }, display),
  };
}
