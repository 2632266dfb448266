import Link from 'next/link';
import { FigureWithTable } from '@/app/ui/figures/FigureWithTable';
import { PairsPlot } from '@/app/ui/figures/PairsPlot';
import { Section } from '@/app/ui/Section';
import type { ComparedSetup, CompareView, SetupDifference } from '@/lib/registry/comparisons/compare';
import { fromCanonical, type UnitCode, unitSymbol } from '@/lib/units/unit';
import { consumptionNumber } from '../consumptionText';
import { percentText, signedText } from './words';

interface SessionPairsProps {
  view: CompareView;
  baseline: ComparedSetup;
  unit: UnitCode;
}

/** The sessions in which both were driven: the strongest evidence, shown one by one. */
export function SessionPairs({ view, baseline, unit }: SessionPairsProps) {
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
        <PairsOf key={difference.setup.setupId} difference={difference} baseline={baseline} unit={unit} />
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
  unit: UnitCode;
}

function PairsOf({ difference, baseline, unit }: PairsOfProps) {
  const { setup, pairs } = difference;
  const { latest, total, lower } = pairs;
  const count = `${total} ${total === 1 ? 'session' : 'sessions'}`;
  const summary = `${setup.name} against ${baseline.name} in ${count}; lower in ${lower} of them.${latest.length < total ? ` ${beyondWords(pairs)}` : ''}`;
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
            { header: 'Baseline', unit: unitSymbol(unit) },
            { header: 'Setup runs', align: 'start' },
            { header: 'Setup', unit: unitSymbol(unit) },
            { header: 'Normalised', unit: '%' },
            { header: 'As measured', unit: '%' },
          ],
          rows: latest.map((pair) => [
            `${pair.date}, ${pair.loopName}, ${pair.testerName}`,
            <RunLinks key="baseline" numbers={pair.baseline.runNumbers} />,
            consumptionNumber(pair.baseline.normalisedWhPerKm, unit),
            <RunLinks key="setup" numbers={pair.setup.runNumbers} />,
            consumptionNumber(pair.setup.normalisedWhPerKm, unit),
            signedText(pair.normalisedPercent),
            signedText(pair.rawPercent),
          ]),
        }}
      >
        <PairsPlot
          title={`Same-session pairs of ${baseline.name} and ${setup.name}`}
          desc={summary}
          firstLabel={baseline.name}
          secondLabel={setup.name}
          axisLabel={`normalised consumption, ${unitSymbol(unit)}`}
          pairs={latest.map((pair) => ({
            key: pair.sessionId,
            label: `${pair.date}, ${pair.loopName}, ${pair.testerName}`,
            first: fromCanonical(pair.baseline.normalisedWhPerKm, unit),
            second: fromCanonical(pair.setup.normalisedWhPerKm, unit),
            text: percentText(pair.normalisedPercent),
          }))}
        />
      </FigureWithTable>
    </div>
  );
}

/** What is not drawn one by one is told in quarters. */
function beyondWords({ latest, total, quartilesPercent }: SetupDifference['pairs']): string {
  const [low = 0, median = 0, high = 0] = quartilesPercent;
  return `Drawn are the latest ${latest.length} of ${total}; of all, the middle half lies between ${percentText(low)} and ${percentText(high)}, the median at ${percentText(median)}.`;
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
