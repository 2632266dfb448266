import { percentEnds, percentOf } from '@/lib/stats/orientedContrast';
import { type ContrastStanding, leavesOutNothing, type StudyStanding } from '@/lib/study/standing';
import type { Display } from '@/lib/units/display';
import { type Answer, type AnswerNumbers, answerOf } from './answer';

/** What a study's numbers say, in whole sentences, and what they cannot say. */
export interface StudyParagraph {
  /** What was driven, of what was planned. */
  driven: string;
  /** One for each setup that was asked about. */
  answers: { setupId: string; answer: Answer }[];
  /** Which interval that is, and why. */
  which: string;
  cannot: string[];
}

export interface StudyNumbers {
  standing: StudyStanding;
  /** By setup's id. */
  titles: ReadonlyMap<string, string>;
  baselineTitle: string;
  planned: { runs: number; days: number };
  /** Runs and days that count. */
  counted: { runs: number; days: number };
  /** Runs that left the plan in one way or another. */
  deviating: number;
  waiting: number;
  loopName: string;
  classLabel: string;
}

/** One paragraph's worth of sentences; none says more than the interval that is shown. */
export function studyParagraph(numbers: StudyNumbers, display: Display): StudyParagraph {
  const { standing, titles, baselineTitle, loopName, classLabel } = numbers;
  const answers = standing.contrasts.map((contrast) => ({
    setupId: contrast.setupId,
    answer: answerOf(
      numbersOf(contrast),
      { setup: titles.get(contrast.setupId) ?? 'A setup', baseline: baselineTitle },
      display,
    ),
  }));
  const cars = Math.max(0, ...standing.contrasts.map((contrast) => contrast.cars));
  const testers = Math.max(0, ...standing.contrasts.map((contrast) => contrast.testers));
  const isUndecided = answers.some(({ answer }) => answer.word === 'undecided');
  return {
    driven: drivenSentence(numbers),
    answers,
    which: standing.why,
    cannot: [
      ...(cars > 0
        ? [
            `It holds for ${counted(cars, 'car')} on ${loopName} at ${classLabel}: other cars, roads and speeds may differ.`,
          ]
        : []),
      ...(testers === 1 ? ['All of it was driven by one tester: another would show whether it holds.'] : []),
      ...(isUndecided ? ['That the two cannot be told apart does not mean that they are equal.'] : []),
      ...(numbers.deviating > 0
        ? [
            `${counted(numbers.deviating, 'run')} did not follow the plan and ${numbers.deviating === 1 ? 'is' : 'are'} marked.`,
          ]
        : []),
      ...(numbers.waiting > 0
        ? [
            `${counted(numbers.waiting, 'run')} still ${numbers.waiting === 1 ? 'waits' : 'wait'} for review and may change it.`,
          ]
        : []),
    ],
  };
}

/**
 * A study's difference as the maker of sentences takes it. Its interval is one of the study's own family, so a difference
 * that it leaves no doubt about is "probable", as among the setups of one model; "settled" is said of a class's ranking
 * alone.
 */
export function numbersOf(contrast: ContrastStanding): AnswerNumbers {
  const { shown, sessions, lower, moreDays } = contrast;
  const interval = shown?.interval ?? null;
  const ends = percentEnds(interval);
  return {
    percent: shown === null ? null : percentOf(shown.difference),
    pointwise: ends,
    ofModel: ends,
    simultaneous: ends,
    word: interval === null ? null : leavesOutNothing(interval) ? 'probable' : 'undecided',
    restsOnOne: false,
    connection: 'driven in the same sessions',
    refusal:
      shown === null
        ? 'No day on which both were driven counts yet.'
        : interval === null
          ? 'More days will give an interval.'
          : null,
    isAssumed: false,
    moreSessions: moreDays,
    detectablePercent: null,
    sideBySide: { total: sessions, lower },
  };
}

function drivenSentence({ counted: done, planned }: StudyNumbers): string {
  if (done.runs === 0)
    return `Planned are ${counted(planned.runs, 'run')} on ${counted(planned.days, 'day')}; none counts yet.`;
  return `${counted(done.runs, 'run')} on ${counted(done.days, 'day')} ${done.runs === 1 ? 'counts' : 'count'}, of ${counted(planned.runs, 'run')} on ${counted(planned.days, 'day')} that were planned.`;
}

function counted(count: number, word: string): string {
  return `${count} ${word}${count === 1 ? '' : 's'}`;
}
