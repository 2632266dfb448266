import type { FigureDescription } from '@/app/ui/figures/description';
import { percentText, signedText } from '@/lib/answers/differenceText';
import type { ComparedSetup, CompareView, SetupDifference } from '@/lib/registry/comparisons/compare';
import { dayWords } from '@/lib/run/localDate';
import { setupAtStart, setupInText } from '@/lib/run/setupTitle';
import type { Display } from '@/lib/units/display';
import { senseOf } from '@/lib/units/sense';
import { fromCanonical, unitSymbol } from '@/lib/units/unit';
import { consumptionNumber } from '../consumptionText';
import { compareSource } from './compareSource';

/** The sessions in which a setup and the baseline were both driven. */
export function pairsFigure(
  view: Pick<CompareView, 'group' | 'fit' | 'classLabel'>,
  baseline: ComparedSetup,
  { setup, pairs }: SetupDifference,
  display: Display,
): FigureDescription {
  const { latest, total } = pairs;
  const unit = display.consumption;
  const sense = senseOf(unit);
  const count = `${total} ${total === 1 ? 'session' : 'sessions'}`;
  const summary = `${setupAtStart(setup.name)} against ${setupInText(baseline.name)} in ${count}; ${inHowMany(pairs, display)}.${latest.length < total ? ` ${beyondWords(pairs, display)}` : ''}`;
  const links = (numbers: readonly number[]) =>
    numbers.map((number) => ({ text: String(number), href: `/runs/${number}` }));
  const sessionName = (pair: (typeof latest)[number]) =>
    `${dayWords(pair.date)}, ${pair.loopName}, ${pair.testerName}`;
  return {
    ...compareSource('pairs', view, [baseline, setup], display),
    title: summary,
    desc: latest
      .slice(0, 12)
      .map((pair) => `${sessionName(pair)}: ${percentText(pair.normalisedPercent, display)}`)
      .join('. '),
    reading:
      'Each end is the mean of that session’s runs, brought to reference conditions. It is a geometric mean, so that differences are ratios.',
    counts: `${count} with both, at ${view.classLabel}`,
    drawing: {
      kind: 'pairs',
      firstLabel: baseline.name,
      secondLabel: setup.name,
      axisLabel: `${sense.quantity} at reference conditions, ${unitSymbol(unit)}`,
      pairs: latest.map((pair, place) => ({
        // not by the session's own name: it tells to the millisecond when the first of its runs was sent in
        key: String(place),
        label: sessionName(pair),
        first: fromCanonical(pair.baseline.normalisedWhPerKm, unit),
        second: fromCanonical(pair.setup.normalisedWhPerKm, unit),
        text: percentText(pair.normalisedPercent, display),
      })),
    },
    table: {
      caption: `Sessions with both ${baseline.name} and ${setup.name}`,
      columns: [
        { header: 'Session' },
        { header: 'Baseline runs', align: 'start' },
        { header: 'Baseline', unit: unitSymbol(unit) },
        { header: 'Setup runs', align: 'start' },
        { header: 'Setup', unit: unitSymbol(unit) },
        { header: 'At reference conditions', unit: '%' },
        { header: 'As measured', unit: '%' },
      ],
      rows: latest.map((pair) => [
        sessionName(pair),
        links(pair.baseline.runNumbers),
        consumptionNumber(pair.baseline.normalisedWhPerKm, display),
        links(pair.setup.runNumbers),
        consumptionNumber(pair.setup.normalisedWhPerKm, display),
        signedText(pair.normalisedPercent, display),
        signedText(pair.rawPercent, display),
      ]),
    },
  };
}

/** What is not drawn one by one is told in quarters. */
function beyondWords(
  { latest, total, quartilesPercent }: SetupDifference['pairs'],
  display: Display,
): string {
  const [first = 0, median = 0, last = 0] = quartilesPercent;
  // in a unit of distance per energy the quartiles change places
  const [low, high] = senseOf(display.consumption).isHigherBetter ? [last, first] : [first, last];
  return `Drawn are the latest ${latest.length} of ${total}; of all, the middle half lies between ${percentText(low, display)} and ${percentText(high, display)}, the middle one at ${percentText(median, display)}.`;
}

/** The side that more of them were on. */
function inHowMany({ total, lower }: SetupDifference['pairs'], display: Display): string {
  const sense = senseOf(display.consumption);
  const [side, count] = 2 * lower < total ? [sense.higher, total - lower] : [sense.lower, lower];
  if (total === 1) return `${side} in it`;
  return `${side} in ${count === total ? 'all' : count} of them`;
}
