import type { FigureDescription } from '@/app/ui/figures/description';
import { Figure } from '@/app/ui/figures/Figure';
import { Section } from '@/app/ui/Section';
import type { IntervalsView } from '@/lib/registry/holds/intervals';
import { DEPENDENCE } from '@/lib/stats/holds/coverage';
import { MOST_SESSIONS, REFIT_GROWTH } from '@/lib/stats/holds/predictInTurn';
import type { Display } from '@/lib/units/display';
import { showNumber } from '@/lib/units/show';
import { HeldTable } from './HeldTable';
import { sharePercent } from './words';

type Held = NonNullable<IntervalsView['held']>;

interface CountedProps {
  held: Held;
  classLabel: string;
  source: Pick<FigureDescription, 'source' | 'isDemo'>;
  display: Display;
}

/** How often intervals of three widths held, and where the runs fell in what was predicted of them. */
export function Counted({ held, classLabel, source, display }: CountedProps) {
  const { runs, sessions, histogram } = held;
  const expected = runs.predicted / histogram.length;
  // Of a count with variance 1.4 n p (1 − p), as for the shares.
  const spread = 1.96 * Math.sqrt(DEPENDENCE * expected * (1 - 1 / histogram.length));
  const tenth = (i: number) => `${i * 10} to ${(i + 1) * 10} %`;
  return (
    <Section
      id="counted"
      title="Runs against what was predicted of them"
      note={`${runs.predicted} runs of ${sessions.predicted} sessions at ${classLabel}. Each session is predicted from what was approved before it, with the spreads between cars, days and runs as they were then known.`}
      wide
    >
      <HeldTable
        caption="How often intervals held"
        inside="Runs inside"
        rows={held.coverage}
        display={display}
        footnote="Runs share cars and what is known of the class, so a share tells less than as many separate runs would: the spread that chance may give it (its variance) is taken as 1.4 times as large."
      />
      <Figure
        figure={{
          ...source,
          mark: display.mark,
          counts: `${runs.predicted} runs of ${sessions.predicted} sessions at ${classLabel}`,
          title: `Where ${runs.predicted} runs fell in what was predicted of them: 0 is the lowest that was thought possible, 100 % the highest.`,
          desc: histogram.map((count, i) => `${tenth(i)}: ${count}`).join(', '),
          reading:
            'Level bars mean that the predictions say what they should. A hump in the middle means intervals that are too wide, tall ends too narrow ones, a slope predictions that miss to one side.',
          drawing: {
            kind: 'bars',
            counts: histogram,
            level: {
              value: expected,
              low: Math.max(0, expected - spread),
              high: expected + spread,
              label: 'all parts alike',
              bandLabel: 'where chance puts 19 of 20 bars',
            },
            from: 0,
            to: 100,
            axisLabel: 'part of the prediction, %',
            countLabel: 'runs',
          },
          table: {
            caption: 'Runs by where they fell',
            columns: [
              { header: 'Part of the prediction' },
              { header: 'Runs' },
              { header: 'Where all are alike' },
            ],
            rows: histogram.map((count, i) => [tenth(i), String(count), showNumber(expected, 1, display)]),
          },
        }}
      />
      <p className="max-w-[46rem] text-sm">
        {runs.notPredicted} runs were not predicted, because their setup had no earlier run or nothing was
        known of the class yet; {sessions.notPredicted} whole sessions are among them. How far cars, days and
        runs differ was estimated anew {held.refits} times on the way, whenever the runs had grown by{' '}
        {sharePercent(REFIT_GROWTH, display, 0)} %; of a large class the latest {MOST_SESSIONS} sessions are
        predicted. What the method and the models’ data leave uncertain is not counted here: it is off by the
        same in the runs that a prediction rests on and in those predicted, so it cancels as far as both were
        driven in like conditions. Between summer and winter a few tenths of a per cent of it remain, so this
        asks a little more of the intervals than they promise.
      </p>
    </Section>
  );
}
