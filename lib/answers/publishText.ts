import type { Answer } from './answer';

/**
 * The plain text under a video. What a viewer must not be without stands in every length of it: an answer with its
 * interval in the words of the one maker of sentences, the counts, the caution and the address. What there is no room
 * for goes in a fixed order: further sentences from the last on, whole sentences for lines, answers from the least sure
 * on, the question; names are cut, numbers never.
 */
export interface PublishNumbers {
  /** What was asked, in words. */
  question: string;
  /** The surest first, each with the setup's title. */
  answers: readonly { setup: string; answer: Answer }[];
  /** What it rests on, as a sentence. */
  counts: string;
  /** Which interval it is, and what it does not say; the most needed first. */
  further: readonly string[];
  link: string;
  isDemo: boolean;
}

/** UTF-16 units, of which no way of counting characters finds more. */
export const MOST_CHARACTERS = 900;

export const PUBLISHED_CAUTION =
  'Posted limits and local law come first. An estimate under stated conditions, never a promise.';

const DEMO = 'Demo world: invented data.';

/** Names are cut after so many characters where room is short. */
const SHORT_NAME = 48;
const SHORT_QUESTION = 120;

/** The longest form that fits; undefined where the address or the counts alone leave no room for an answer. */
export function publishText(numbers: PublishNumbers): string | undefined {
  for (const text of shorterAndShorter(numbers)) if (text.length <= MOST_CHARACTERS) return text;
  return undefined;
}

function* shorterAndShorter({ question, answers, counts, further, link, isDemo }: PublishNumbers) {
  const text = (asked: string, answered: readonly string[], more: readonly string[] = []) =>
    [asked, answered.join('\n'), [counts, ...more].join(' '), isDemo ? DEMO : '', PUBLISHED_CAUTION, link]
      .map((part) => part.trim())
      .filter((part) => part !== '')
      .join('\n\n');
  const asked = inOneLine(question);
  const sentences = answers.map(({ answer }) => answer.sentence);
  for (let kept = further.length; kept >= 0; kept--) yield text(asked, sentences, further.slice(0, kept));
  const lines = answers.map(lineOf);
  yield text(asked, lines);
  for (let kept = lines.length - 1; kept > 0; kept--) {
    const rest = lines.length - kept;
    const more = `and ${rest} more at the address below`;
    yield text(cut(asked, SHORT_QUESTION), [...lines.slice(0, kept), more]);
  }
  yield text('', lines.length > 1 ? [...lines.slice(0, 1), 'and more at the address below'] : lines);
}

/** A line always says an interval, or that there is none. */
function lineOf({ setup, answer }: PublishNumbers['answers'][number]): string {
  const said = answer.word === 'no answer yet' ? 'no interval yet' : answer.line;
  return `${cut(inOneLine(setup), SHORT_NAME)}: ${said}`;
}

function inOneLine(text: string): string {
  return text.replaceAll(/\s+/g, ' ').trim();
}

/** Whole letters only: a pair of surrogates is one. */
function cut(text: string, most: number): string {
  const letters = [...text];
  return letters.length <= most
    ? text
    : `${letters
        .slice(0, most - 1)
        .join('')
        .trimEnd()}…`;
}
