import type { GuessCounts } from '@/lib/study/guess';
import type { Display } from '@/lib/units/display';
import { senseOf } from '@/lib/units/sense';

/** What readers had expected, in counts and no more: how many said what, and how many of them lay within the interval. */
export function guessesSentence(counts: GuessCounts, interval: string | null, display: Display): string {
  const { total, less, none, more, within } = counts;
  if (total === 0) return 'Nobody guessed.';
  const { infinitive, less: lessWords, more: moreWords } = senseOf(display.consumption);
  const parts = [
    ...(less > 0 ? [`${less} expected it to ${infinitive} ${lessWords}`] : []),
    ...(more > 0 ? [`${more} expected it to ${infinitive} ${moreWords}`] : []),
    ...(none > 0 ? [`${none} expected no difference`] : []),
  ];
  const listed = parts.length < 2 ? parts.join('') : `${parts.slice(0, -1).join(', ')} and ${parts.at(-1)}`;
  const said = `Of ${total} ${total === 1 ? 'guess' : 'guesses'} ${listed}.`;
  if (within === null || interval === null) return said;
  return `${said} ${within} ${within === 1 ? 'lies' : 'lie'} within the interval that came out (${interval} %).`;
}
