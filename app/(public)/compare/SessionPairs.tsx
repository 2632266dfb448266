import Link from 'next/link';
import { FigureWithTable } from '@/app/ui/figures/FigureWithTable';
import { PairsPlot } from '@/app/ui/figures/PairsPlot';
import { Section } from '@/app/ui/Section';
import type { ComparedSetup, CompareView, SetupDifference } from '@/lib/registry/comparisons/compare';
import { dayWords } from '@/lib/run/localDate';
import type { Display } from '@/lib/units/display';
import { senseOf } from '@/lib/units/sense';
import { fromCanonical, unitSymbol } from '@/lib/units/unit';
import { consumptionNumber } from '../consumptionText';
import { percentText, signedText } from './words';

interface SessionPairsProps {
  view: CompareView;
  baseline: ComparedSetup;
  display: Display;
}

/** The sessions in which both were driven: the strongest evidence, shown one by one. */
export function SessionPairs({ view, baseline, display }: SessionPairsProps) {
  const paired = view.differences.filter((difference) => difference.pairs.total > 0);
  const without = view.differences.filter((difference) => difference.pairs.total === 0);
  return (
    <Section
      id="pairs"
      title="Driven in the same session"
      note="Car, loop, day and weather were the same for both ends of a line, so what they add cancels in its length."
      wide
    >
      {paired.map((difference) => (
        <PairsOf
          key={difference.setup.setupId}
          difference={difference}
          baseline={baseline}
          display={display}
        />
      ))}
      {without.length === 0 ? null : (
        <p className="max-w-[46rem] text-sm text-ink-soft">
          Never in one session with the baseline: {without.map(({ setup }) => `“${setup.name}”`).join(', ')}.
        </p>
      )}
    </Section>
  );
}

interface PairsOfProps {
  difference: SetupDifference;
  baseline: ComparedSetup;
  display: Display;
}

function PairsOf({ difference, baseline, display }: PairsOfProps) {
  const { setup, pairs } = difference;
  const { latest, total, lower } = pairs;
  const count = `${total} ${total === 1 ? 'session' : 'sessions'}`;
  const summary = `${setup.name} against ${baseline.name} in ${count}; ${senseOf(display.consumption).lower} in ${lower} of them.${latest.length < total ? ` ${beyondWords(pairs, display)}` : ''}`;
  return (
    <div>
      <h3 className="mt-6">{setup.name}</h3>
      <FigureWithTable
        caption={summary}
        reading="Each end is the geometric mean of that session’s normalised runs."
        tableCaption={`Sessions with both ${baseline.name} and ${setup.name}`}
        table={{
          columns: [
            { header: 'Session' },
            { header: 'Baseline runs', align: 'start' },
            { header: 'Baseline', unit: unitSymbol(display.consumption) },
            { header: 'Setup runs', align: 'start' },
            { header: 'Setup', unit: unitSymbol(display.consumption) },
            { header: 'Normalised', unit: '%' },
            { header: 'As measured', unit: '%' },
          ],
          rows: latest.map((pair) => [
            `${dayWords(pair.date)}, ${pair.loopName}, ${pair.testerName}`,
            <RunLinks key="baseline" numbers={pair.baseline.runNumbers} />,
            consumptionNumber(pair.baseline.normalisedWhPerKm, display),
            <RunLinks key="setup" numbers={pair.setup.runNumbers} />,
            consumptionNumber(pair.setup.normalisedWhPerKm, display),
            signedText(pair.normalisedPercent, display),
            signedText(pair.rawPercent, display),
          ]),
        }}
      >
        <PairsPlot
          title={`Same-session pairs of ${baseline.name} and ${setup.name}`}
          desc={summary}
          firstLabel={baseline.name}
          secondLabel={setup.name}
          axisLabel={`normalised ${senseOf(display.consumption).quantity}, ${unitSymbol(display.consumption)}`}
          pairs={latest.map((pair) => ({
            key: pair.sessionId,
            label: `${dayWords(pair.date)}, ${pair.loopName}, ${pair.testerName}`,
            first: fromCanonical(pair.baseline.normalisedWhPerKm, display.consumption),
            second: fromCanonical(pair.setup.normalisedWhPerKm, display.consumption),
            text: percentText(pair.normalisedPercent, display),
          }))}
        />
      </FigureWithTable>
    </div>
  );
}

/** What is not drawn one by one is told in quarters. */
function beyondWords(
  { latest, total, quartilesPercent }: SetupDifference['pairs'],
  display: Display,
): string {
  const [first = 0, median = 0, last = 0] = quartilesPercent;
  // in a unit of distance per energy the quartiles change places
  const [low, high] = senseOf(display.consumption).isHigherBetter ? [last, first] : [first, last];
  return `Drawn are the latest ${latest.length} of ${total}; of all, the middle half lies between ${percentText(low, display)} and ${percentText(high, display)}, the median at ${percentText(median, display)}.`;
}

function RunLinks({ numbers }: { numbers: readonly number[] }) {
  return (
    <>
      {numbers.map((number, index) => (
        <span key={number}>
          {index > 0 ? ', ' : ''}
          <Link className="link" href={`/runs/${number}`}>
            {number}
          </Link>
        </span>
      ))}
    </>
  );
}
