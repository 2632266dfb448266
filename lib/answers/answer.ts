import { setupInText } from '@/lib/run/setupTitle';
import { earnedInterval, type StatedDifference } from '@/lib/stats/statedDifference';
import type { Display } from '@/lib/units/display';
import { percentEndsIn, percentIn, senseOf } from '@/lib/units/sense';
import { showNumber } from '@/lib/units/show';
import { differencePlace } from './differenceText';
import { restsText } from './placeText';

/**
 * The one maker of sentences about a difference. A sentence says a direction only where the interval it quotes leaves
 * no difference out, and quotes the interval that earns its word (method B6): that of the class for settled, of the
 * model for probable, of the pair alone for leaning and undecided.
 */

/** What a reader asks of: one setup, or one level of a factor, against another; by the titles that pages give them. */
export interface AnswerQuestion {
  /** "Ride height: low", in the sentence “Low ride height” */
  setup: string;
  /** "As delivered", in the sentence the car as delivered */
  baseline: string;
  /** They are words of a sentence as they stand: "a steady 110 km/h". */
  areWords?: boolean;
}

/** The sessions in which both were driven, and those of them in which the setup used less. */
export interface SideBySide {
  total: number;
  lower: number;
}

export type AnswerWord = NonNullable<StatedDifference['word']> | 'no answer yet';

export interface Answer {
  word: AnswerWord;
  /** Whole sentences in everyday words. */
  sentence: string;
  /** The same in a line of a list that names the setup and the word; the whole sentence where there is no answer. */
  line: string;
  /** What would make it surer, where that can be said; '' otherwise. */
  next: string;
}

export interface AnswerNumbers extends StatedDifference {
  sideBySide?: SideBySide | undefined;
}

/** The word, one everyday sentence, and what would settle it. */
export function answerOf(numbers: AnswerNumbers, question: AnswerQuestion, display: Display): Answer {
  const { percent, word, refusal } = numbers;
  const { setup, inText, baseline } = named(question);
  if (percent === null) {
    return noAnswer(`${setup} and ${baseline} cannot be compared yet.`, refusal);
  }
  const earned = earnedInterval(numbers);
  if (word === null || earned === null) {
    return noAnswer(`Too little has been driven to say how ${inText} differs from ${baseline}.`, refusal);
  }
  const assumed = numbers.isAssumed
    ? ' How well runs repeat is partly assumed, because few have been driven yet.'
    : '';
  return {
    word,
    sentence: `${wordedSentence(numbers, earned, question, display)}${assumed}`,
    line:
      word === 'undecided' ? `anything ${fromTo(earned, numbers, display)}` : shortAnswer(numbers, display),
    next: nextStep(numbers, display),
  };
}

/** "probably 1.3 % less (0.2 to 2.3)": the same for a row that has its own name. */
export function shortAnswer(numbers: StatedDifference, display: Display): string {
  const { percent, word } = numbers;
  const earned = earnedInterval(numbers);
  if (percent === null) return 'cannot be compared yet';
  if (word === null || earned === null) return 'too little driven to say';
  if (word === 'undecided') return `undecided: ${fromTo(earned, numbers, display)}`;
  const { size, ends } = sizeAndEnds(percent, earned, numbers, display);
  const before = { settled: '', probable: 'probably ', leaning: 'perhaps ' }[word];
  return `${before}${size} ${directionWords(percent, display)} (${ends})`;
}

/** The word for the strength of the evidence, and why it is not a stronger one. */
export function resultText({ word, restsOnOne, isDrivenByOne = false }: StatedResult): string {
  if (word === null) return 'no interval';
  return restsOnOne ? `${word}, ${restsText(isDrivenByOne)}` : word;
}

export type StatedResult = Pick<StatedDifference, 'word' | 'restsOnOne' | 'isDrivenByOne'>;

function wordedSentence(
  numbers: AnswerNumbers,
  earned: readonly [number, number],
  question: AnswerQuestion,
  display: Display,
): string {
  const { setup, baseline } = named(question);
  if (numbers.word === 'undecided') {
    return `${setup} and ${baseline} cannot be told apart yet: the difference may be anything ${fromTo(earned, numbers, display)}.`;
  }
  const percent = numbers.percent ?? 0;
  const { verb, infinitive } = senseOf(display.consumption);
  const { size, ends } = sizeAndEnds(percent, earned, numbers, display);
  const change = `${size} ${directionWords(percent, display)} than ${baseline} (${ends} %)`;
  const days = sideBySideWords(numbers, display);
  switch (numbers.word) {
    case 'settled':
      return `${setup} ${verb} ${change}${days}.`;
    case 'probable':
      return `${setup} probably ${verb} ${change}${days}.`;
    default:
      return `${setup} may ${infinitive} ${change}${days}: a lead, not yet a finding.`;
  }
}

function nextStep(numbers: AnswerNumbers, display: Display) {
  const { word, restsOnOne, isDrivenByOne = false, moreSessions, detectablePercent } = numbers;
  if (restsOnOne) return `It ${restsText(isDrivenByOne)}: sessions by another would show whether it holds.`;
  if (word === 'settled') return '';
  if (moreSessions !== null) {
    const sessions = `${moreSessions} more ${moreSessions === 1 ? 'session' : 'sessions'} of both`;
    return word === 'undecided'
      ? `If it is as large as it looks, about ${sessions} would settle it.`
      : `About ${sessions} would settle it, if it is as large as it looks.`;
  }
  return word === 'undecided' && detectablePercent !== null
    ? `A difference of ${showNumber(Math.abs(percentIn(display.consumption, detectablePercent)), 1, display)} % would probably have shown.`
    : '';
}

function noAnswer(sentence: string, refusal: string | null): Answer {
  const whole = `${sentence} ${refusal ?? ''}`.trim();
  return { word: 'no answer yet', sentence: whole, line: whole, next: '' };
}

function named({ setup, baseline, areWords = false }: AnswerQuestion) {
  const inText = areWords ? setup : setupInText(setup);
  return {
    inText,
    setup: inText.charAt(0).toUpperCase() + inText.slice(1),
    baseline: areWords ? baseline : setupInText(baseline),
  };
}

/** "less" or "further per kWh" by the sign of the difference in consumption. */
function directionWords(percent: number, display: Display): string {
  const { less, more } = senseOf(display.consumption);
  return percent < 0 ? less : more;
}

/** The size without its sign, and the ends likewise, the smaller first: the direction is said in words. */
function sizeAndEnds(
  percent: number,
  earned: readonly [number, number],
  numbers: AnswerNumbers,
  display: Display,
): { size: string; ends: string } {
  const unit = display.consumption;
  const sizes = percentEndsIn(unit, earned)
    .map(Math.abs)
    .sort((a, b) => a - b);
  const [least = 0, most = 0] = sizes;
  const place = placeThatShows(least, differencePlace(numbers, display));
  const text = (size: number) => showNumber(size, place, display);
  return {
    size: `${text(Math.abs(percentIn(unit, percent)))} %`,
    ends: `${text(least)} to ${text(most)}`,
  };
}

/** A size above nothing is not said to be nothing: where rounding would, a digit more is shown. */
export function placeThatShows(size: number, place: number): number {
  let shown = place;
  // Places before the point count as well: rounded to tens, 2 is nothing.
  while (size > 0 && shown < place + 3 && Math.round(size * 10 ** shown) === 0) shown++;
  return shown;
}

/** "from 1.4 % less to 0.6 % more" */
function fromTo(
  ends: readonly [number, number],
  numbers: Pick<AnswerNumbers, 'percent' | 'pointwise' | 'simultaneous'>,
  display: Display,
): string {
  const place = differencePlace(numbers, display);
  const one = (percent: number) => {
    const size = showNumber(Math.abs(percentIn(display.consumption, percent)), place, display);
    return `${size} % ${directionWords(percent, display)}`;
  };
  return `from ${one(ends[0])} to ${one(ends[1])}`;
}

/** ", lower on 4 of 4 days side by side": days that say the other thing more often are not hidden. */
function sideBySideWords({ percent, sideBySide }: AnswerNumbers, display: Display): string {
  if (sideBySide === undefined || sideBySide.total === 0 || percent === null) return '';
  const { total, lower } = sideBySide;
  const agreeing = percent < 0 ? lower : total - lower;
  const sense = senseOf(display.consumption);
  const word = percent < 0 ? sense.lower : sense.higher;
  const days = `${agreeing} of ${total} ${total === 1 ? 'day' : 'days'} on which both were driven`;
  return 2 * agreeing < total ? `, though ${word} on only ${days}` : `, ${word} on ${days}`;
}

const STRENGTH: readonly AnswerWord[] = ['settled', 'probable', 'leaning', 'undecided', 'no answer yet'];

/**
 * The surest first, by the word, then by how often the interval of the pair alone goes into the difference, both as
 * logarithms: the same from either side of a pair, and the order in which the store finds answers (`bestChanges`).
 */
export function bySureness(a: AnswerNumbers, b: AnswerNumbers): number {
  const step = (word: AnswerNumbers['word']) => STRENGTH.indexOf(word ?? 'no answer yet');
  return step(a.word) - step(b.word) || clarity(b) - clarity(a);
}

function clarity({ percent, pointwise }: AnswerNumbers): number {
  if (percent === null || pointwise === null) return 0;
  const [low, high] = pointwise.map((end) => Math.log1p(end / 100)) as [number, number];
  return Math.abs(Math.log1p(percent / 100)) / Math.max(high - low, 1e-12);
}
