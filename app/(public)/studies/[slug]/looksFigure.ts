import type { FigureDescription } from '@/app/ui/figures/description';
import { ZERO_LINE } from '@/app/ui/figures/zeroLine';
import { differencePlace, endsText, signedText } from '@/lib/answers/differenceText';
import { numbersOf, type StudyParagraph } from '@/lib/answers/studyParagraph';
import type { StudyView } from '@/lib/registry/studies/study';
import { dateText, dayWords } from '@/lib/run/localDate';
import { setupInText } from '@/lib/run/setupTitle';
import { percentEnds, percentOf } from '@/lib/stats/orientedContrast';
import type { ContrastStanding } from '@/lib/study/standing';
import type { Display } from '@/lib/units/display';
import { percentEndsIn, percentIn, senseOf } from '@/lib/units/sense';

/** How one difference stood after each session: a figure through time, the first session on top. */
export function looksFigure(
  view: Pick<StudyView, 'model' | 'classLabel' | 'slug' | 'asOf' | 'world'>,
  contrast: ContrastStanding,
  names: { setup: string; baseline: string },
  answer: StudyParagraph['answers'][number]['answer'],
  display: Display,
): FigureDescription {
  const sense = senseOf(display.consumption);
  const percent = (log: number) => percentIn(display.consumption, percentOf(log));
  const place = differencePlace(numbersOf(contrast), display);
  const { planned } = contrast;
  const plannedEnds = percentEnds(planned?.interval ?? null);
  const looks = contrast.looks.flatMap((look, i) => {
    if (look.bound === null) return [];
    const ends = percentEnds(look.bound.interval);
    const [low, high] = ends === null ? [undefined, undefined] : percentEndsIn(display.consumption, ends);
    const own = look.sessionDifference;
    return [
      {
        key: String(i),
        label: `After day ${i + 1}`,
        detail: dayWords(look.day),
        estimate: percent(look.bound.difference),
        ...(low === undefined || high === undefined ? {} : { low, high }),
        text: signedText(percentOf(look.bound.difference), display, place),
        intervalText: ends === null ? 'no interval yet' : endsText(ends, display, place),
        muted: look.bound.interval === null || (look.bound.interval[0] <= 0 && look.bound.interval[1] >= 0),
        ...(own === null
          ? {}
          : {
              before: {
                value: percent(own),
                text: `that day alone ${signedText(percentOf(own), display, place)} %`,
              },
            }),
      },
    ];
  });
  // The answer quotes the interval that was planned for the end: what is printed is drawn, too.
  const atEnd =
    planned === null || plannedEnds === null
      ? []
      : [
          {
            key: 'planned',
            label: 'At the end, as planned',
            detail: 'the answer’s interval',
            estimate: percent(planned.difference),
            low: percentEndsIn(display.consumption, plannedEnds)[0],
            high: percentEndsIn(display.consumption, plannedEnds)[1],
            text: signedText(percentOf(planned.difference), display, place),
            intervalText: endsText(plannedEnds, display, place),
            muted: plannedEnds[0] <= 0 && plannedEnds[1] >= 0,
          },
        ];
  const rows = [...looks, ...atEnd];
  return {
    title: `${view.model.words} at ${view.classLabel}: ${answer.sentence}`,
    desc: rows.map((row) => `${row.label}: ${row.text} % (${row.intervalText})`).join('. '),
    reading: `Each row counts all days up to then. ${sense.sideOfZero}. The bar holds however often one looks: it is wide at first, and can be read after every day without fooling oneself. The hollow mark is that day alone. ${atEnd.length > 0 ? 'The last row has the interval that was planned for the end, which the answer states. ' : ''}Days stand in the order in which their last run was approved.`,
    counts: `${contrast.runs} runs on ${contrast.sessions} ${contrast.sessions === 1 ? 'day' : 'days'} with both`,
    source: { path: `/studies/${view.slug}`, asOf: dateText(view.asOf) },
    isDemo: view.world === 'demo',
    mark: display.mark,
    drawing:
      rows.length === 0
        ? { kind: 'none', why: 'No day on which both were driven counts yet.' }
        : {
            kind: 'interval',
            rows,
            label: `${names.setup} against ${names.baseline}, after each day`,
            unit: '%',
            axisLabel: `difference in ${sense.quantity} from ${setupInText(names.baseline)}, %`,
            reference: ZERO_LINE,
            ordered: true,
            rowHead: 'Day',
            valueHead: 'Difference',
            markLabel: 'all days up to then, with the interval that holds at every look',
            beforeLabel: 'that day alone',
            mutedLabel: 'undecided',
          },
    table: {
      caption: `${names.setup} against ${names.baseline}, after each day`,
      columns: [
        { header: 'Day' },
        { header: 'Driven', align: 'start' },
        { header: 'That day alone', unit: '%' },
        { header: 'All days up to then', unit: '%' },
        { header: 'Interval at every look', unit: '%' },
        { header: 'Interval planned for the end', unit: '%' },
        { header: 'What repeats', align: 'start' },
      ],
      rows: [
        ...contrast.looks.map((look, i) => {
          const ends = percentEnds(look.bound?.interval ?? null);
          return [
            String(i + 1),
            dayWords(look.day),
            look.sessionDifference === null
              ? '–'
              : signedText(percentOf(look.sessionDifference), display, place),
            look.bound === null ? '–' : signedText(percentOf(look.bound.difference), display, place),
            ends === null ? '–' : endsText(ends, display, place),
            '–',
            repeats(look.bound),
          ];
        }),
        ...atEnd.map(({ label, text, intervalText }) => [
          label,
          'all days',
          '–',
          text,
          '–',
          intervalText,
          repeats(planned),
        ]),
      ],
    },
  };
}

function repeats(bound: ContrastStanding['planned']): string {
  return bound === null ? '–' : bound.level === 'runs' ? 'runs' : 'days, as they disagree';
}
