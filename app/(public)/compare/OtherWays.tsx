import { FigureWithTable } from '@/app/ui/figures/FigureWithTable';
import { type WayRow, WaysPlot } from '@/app/ui/figures/WaysPlot';
import { Section } from '@/app/ui/Section';
import type { ComparedSetup, CompareView, SetupDifference } from '@/lib/registry/comparisons/compare';
import { percentEnds, percentOf } from '@/lib/stats/orientedContrast';
import type { OtherWays as Ways } from '@/lib/stats/otherWays/way';
import { CARS_WORDS, notDrawnText, signSentence, wayText } from './otherWaysWords';
import { endsText, signedText } from './words';

interface OtherWaysProps {
  view: CompareView;
  baseline: ComparedSetup;
}

/** Does the answer hang on the method? Each difference computed other ways, beside the published one. */
export function OtherWays({ view, baseline }: OtherWaysProps) {
  const shown = view.differences.filter(({ percent, pointwise }) => percent !== null && pointwise !== null);
  if (shown.length === 0) return null;
  return (
    <Section
      id="other-ways"
      title="Does the answer hang on the method?"
      note={`The same differences from “${baseline.name}”, computed with other choices of method.`}
      wide
    >
      {shown.map((difference) => (
        <div key={difference.setup.setupId} className="mb-8">
          <h3>{difference.setup.name}</h3>
          {difference.otherWays === undefined ? (
            <p className="mt-2 text-ink-soft">
              Not yet computed for this fit; in a very large class it is not computed at all.
            </p>
          ) : (
            <OneDifference difference={difference} found={difference.otherWays} />
          )}
        </div>
      ))}
    </Section>
  );
}

function OneDifference({ difference, found }: { difference: SetupDifference; found: Ways }) {
  const { percent, pointwise, setup } = difference;
  if (percent === null) return null;
  const rows = [publishedRow(percent, pointwise), ...waysRows(found)];
  return (
    <>
      <p className="mt-2 max-w-[46rem]">{signSentence(percent, found)}</p>
      <FigureWithTable
        caption={`“${setup.name}” by the published method and by others, in per cent of the baseline’s consumption; below zero is less.`}
        reading="Bars with a dot are 95 % intervals of this pair taken alone; the bar of the cars left out is the span of the differences. Ways that leave something out are fits of their own; those that add an effect, and the cars, keep the spreads between cars, days and runs as published."
        tableCaption={`“${setup.name}” computed other ways`}
        table={{
          columns: [
            { header: 'Way' },
            { header: 'Difference', unit: '%' },
            { header: '95 % or span', unit: '%' },
          ],
          rows: rows.map(({ label, estimate, ends }) => [
            label,
            estimate === undefined ? '–' : signedText(estimate),
            ends === undefined ? '–' : endsText(ends),
          ]),
        }}
      >
        <WaysPlot
          title={`${setup.name} computed other ways`}
          desc={rows.map(({ label, text }) => `${label}: ${text}`).join('. ')}
          rows={rows}
          axisLabel="difference in consumption, %"
          zeroLabel="as the baseline"
        />
      </FigureWithTable>
      {notDrawnText(found).map((words) => (
        <p key={words} className="max-w-[46rem] text-sm text-ink-soft">
          {words}
        </p>
      ))}
    </>
  );
}

function publishedRow(percent: number, pointwise: [number, number] | null): WayRow {
  return { key: 'published', label: 'As published', strong: true, ...measures(percent, pointwise) };
}

function waysRows({ ways, carsLeftOut }: Ways): WayRow[] {
  const rows = ways.flatMap(({ way, difference, interval }): WayRow[] =>
    difference === null
      ? []
      : [{ key: way, label: wayText(way), ...measures(percentOf(difference), percentEnds(interval)) }],
  );
  if (carsLeftOut === null) return rows;
  const ends = [percentOf(carsLeftOut.low), percentOf(carsLeftOut.high)] as const;
  return [...rows, { key: 'cars', label: CARS_WORDS, ends, text: endsText(ends) }];
}

function measures(percent: number, ends: readonly [number, number] | null) {
  const text = signedText(percent);
  return ends === null
    ? { estimate: percent, text }
    : { estimate: percent, ends, text: `${text} (${endsText(ends)})` };
}
