import type { FigureDescription } from '@/app/ui/figures/description';
import { differencePlace, endsText, signedText } from '@/lib/answers/differenceText';
import { guessesSentence } from '@/lib/answers/guessesText';
import { numbersOf } from '@/lib/answers/studyParagraph';
import type { StudyView } from '@/lib/registry/studies/study';
import { dateText } from '@/lib/run/localDate';
import { setupInText } from '@/lib/run/setupTitle';
import { countGuessed } from '@/lib/study/guess';
import type { ContrastStanding } from '@/lib/study/standing';
import type { Display } from '@/lib/units/display';
import { percentEndsIn, percentIn, senseOf } from '@/lib/units/sense';

/** What readers had expected beside what came out: one dot a guess, whoever made it. */
export function guessesFigure(
  view: StudyView,
  contrast: ContrastStanding,
  names: { setup: string; baseline: string },
  percents: readonly number[],
  display: Display,
): FigureDescription {
  const unit = display.consumption;
  const sense = senseOf(unit);
  const numbers = numbersOf(contrast);
  const place = differencePlace(numbers, display);
  const { pointwise: interval, percent } = numbers;
  const words = interval === null ? null : endsText(interval, display, place);
  const counts = countGuessed(percents, interval);
  const sentence = guessesSentence(counts, words, display);
  const others = percents.map((guess, i) => ({ value: percentIn(unit, guess), row: i + 1 }));
  const ends = interval && percentEndsIn(unit, interval);
  return {
    title: sentence,
    desc: `${sentence} ${percent === null ? '' : `What came out: ${signedText(percent, display, place)} %.`}`.trim(),
    reading: `Each dot is what one reader expected while the study was driven, of ${setupInText(names.setup)} against ${setupInText(names.baseline)}; nobody saw the others’. The diamond is what came out.`,
    counts: `${counts.total} ${counts.total === 1 ? 'guess' : 'guesses'}`,
    source: { path: `/studies/${view.slug}`, asOf: dateText(view.asOf) },
    isDemo: view.world === 'demo',
    mark: display.mark,
    drawing:
      percent === null || others.length === 0
        ? {
            kind: 'none',
            why: others.length === 0 ? 'Nobody guessed.' : 'Nothing came out to hold them against.',
          }
        : {
            kind: 'histogram',
            others,
            own: { value: percentIn(unit, percent), label: 'what came out', row: 0 },
            ...(ends === null ? {} : { prediction: { low: ends[0], high: ends[1], label: 'its interval' } }),
            othersLabel: 'what readers expected',
            axisLabel: `difference in ${sense.quantity} from ${setupInText(names.baseline)}, %`,
          },
    table: {
      caption: 'What came out, then what readers had expected',
      columns: [{ header: 'Of whom' }, { header: 'Difference', unit: '%' }],
      rows: [
        [
          words === null ? 'what came out' : `what came out (${words})`,
          percent === null ? '–' : signedText(percent, display, place),
        ],
        ...percents.map((guess, i) => [`guess ${i + 1}`, signedText(guess, display)]),
      ],
    },
  };
}
