import type { FigureDescription } from '@/app/ui/figures/description';
import { Figure } from '@/app/ui/figures/Figure';
import type { WayRow } from '@/app/ui/figures/kinds/ways';
import { Section } from '@/app/ui/Section';
import { type DifferenceNumbers, differencePlace, endsText, signedText } from '@/lib/answers/differenceText';
import type { ComparedSetup, CompareView, SetupDifference } from '@/lib/registry/comparisons/compare';
import { setupAtStart, setupInText } from '@/lib/run/setupTitle';
import { percentEnds, percentOf } from '@/lib/stats/orientedContrast';
import type { OtherWays as Ways } from '@/lib/stats/otherWays/way';
import type { Display } from '@/lib/units/display';
import { percentEndsIn, percentIn, senseOf } from '@/lib/units/sense';
import { compareSource } from './compareSource';
import { CARS_WORDS, notDrawnText, signSentence, wayText } from './otherWaysWords';

interface OtherWaysProps {
  view: CompareView;
  baseline: ComparedSetup;
  display: Display;
}

/** Does the answer depend on the method? Each difference computed other ways, beside the published one. */
export function OtherWays({ view, baseline, display }: OtherWaysProps) {
  const shown = view.differences.filter(({ percent, pointwise }) => percent !== null && pointwise !== null);
  if (shown.length === 0) return null;
  return (
    <Section
      id="other-ways"
      title="Does the answer depend on the method?"
      note={`The same differences from ${setupInText(baseline.name)}, worked out in other ways that one could defend.`}
      wide
    >
      {shown.map((difference) => (
        <div key={difference.setup.setupId} className="mb-8">
          <h3>{difference.setup.name}</h3>
          {difference.otherWays === undefined ? (
            <p className="mt-2 text-ink-soft">
              Not worked out yet for these runs; in a very large class it never is.
            </p>
          ) : (
            <WaysOfDifference
              difference={{ ...difference, name: difference.setup.name }}
              found={difference.otherWays}
              source={sourceOf(view, baseline, difference, display)}
              display={display}
            />
          )}
        </div>
      ))}
    </Section>
  );
}

/** What the figure rests on and belongs to. */
type Source = Pick<FigureDescription, 'counts' | 'source' | 'isDemo' | 'mark'>;

function sourceOf(
  view: CompareView,
  baseline: ComparedSetup,
  { setup }: SetupDifference,
  display: Display,
): Source {
  const { address: _, ...source } = compareSource('differences', view, [baseline, setup], display);
  return { ...source, counts: `worked out from ${view.fit?.runCount ?? 0} runs at ${view.classLabel}` };
}

const READING =
  'Bars with a dot are 95 % intervals of this pair taken alone; the bar of the cars left out is the span of the differences. Ways that leave something out are worked out from scratch; those that add a level, and the cars, keep the spreads between cars, days and runs as published.';

interface WaysOfDifferenceProps {
  difference: DifferenceNumbers & { name: string };
  found: Ways;
  source: Source;
  display: Display;
  /** Where it is not that of a class: how the intervals are to be read and named, and whose runs they are. */
  reading?: string;
  published?: string;
  runsOf?: string;
}

/** One difference worked out other ways: in how many the sign holds, and each beside the published one. */
export function WaysOfDifference(props: WaysOfDifferenceProps) {
  const { difference, found, source, display, reading = READING, runsOf = 'the class' } = props;
  const { published = 'As published, this pair alone' } = props;
  const { percent, pointwise, name } = difference;
  if (percent === null) return null;
  const place = differencePlace(difference, display);
  const sense = senseOf(display.consumption);
  const measured = (one: number | null, ends: readonly [number, number] | null) =>
    measures(one, ends, display, place);
  const first = { key: 'published', label: published, strong: true, ...measured(percent, pointwise) };
  const rows = [first, ...rowsOf(found, measured)];
  return (
    <>
      <p className="mt-2 max-w-[46rem]">{signSentence(percent, found, display, place)}</p>
      <Figure
        figure={{
          ...source,
          title: `${setupAtStart(name)} by the published method and by others, in per cent of the baseline’s ${sense.quantity}.`,
          desc: rows.map(({ label, text }) => `${label}: ${text}`).join('. '),
          reading,
          drawing: {
            kind: 'ways',
            rows,
            axisLabel: `difference in ${sense.quantity}, %`,
          },
          table: {
            caption: `${setupAtStart(name)} worked out other ways`,
            columns: [
              { header: 'Way' },
              { header: 'Difference', unit: '%' },
              { header: '95 % or span', unit: '%' },
            ],
            rows: rows.map(({ label, differenceText, endsText }) => [label, differenceText, endsText]),
          },
        }}
      />
      {notDrawnText(found, runsOf).map((words) => (
        <p key={words} className="max-w-[46rem] text-sm text-ink-soft">
          {words}
        </p>
      ))}
    </>
  );
}

/** A row with its numbers as text, for the table. */
type TextRow = WayRow & { differenceText: string; endsText: string };
type Measured = Omit<TextRow, 'key' | 'label'>;

function rowsOf(
  { ways, carsLeftOut }: Ways,
  measured: (percent: number | null, ends: readonly [number, number] | null) => Measured,
): TextRow[] {
  const rows = ways.flatMap(({ way, difference, interval }): TextRow[] =>
    difference === null
      ? []
      : [{ key: way, label: wayText(way), ...measured(percentOf(difference), percentEnds(interval)) }],
  );
  const cars =
    carsLeftOut === null
      ? []
      : [
          {
            key: 'cars',
            label: CARS_WORDS,
            ...measured(null, percentEnds([carsLeftOut.low, carsLeftOut.high])),
          },
        ];
  return [...rows, ...cars];
}

function measures(
  percent: number | null,
  ends: readonly [number, number] | null,
  display: Display,
  place: number,
): Measured {
  const unit = display.consumption;
  const difference = percent === null ? '' : signedText(percent, display, place);
  const span = ends === null ? '' : endsText(ends, display, place);
  return {
    ...(percent === null ? {} : { estimate: percentIn(unit, percent) }),
    ...(ends === null ? {} : { ends: percentEndsIn(unit, ends) }),
    text: difference === '' ? span : span === '' ? difference : `${difference} (${span})`,
    differenceText: difference || '–',
    endsText: span || '–',
  };
}
