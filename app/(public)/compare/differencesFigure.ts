import type { FigureDescription, TwinCell } from '@/app/ui/figures/description';
import { answerOf, resultText } from '@/lib/answers/answer';
import { differencePlace, signedText } from '@/lib/answers/differenceText';
import type { ComparedSetup, CompareView, SetupDifference } from '@/lib/registry/comparisons/compare';
import { setupInText } from '@/lib/run/setupTitle';
import type { Display } from '@/lib/units/display';
import { senseOf } from '@/lib/units/sense';
import { budgetPlace, showNumber } from '@/lib/units/show';
import {
  differenceReading,
  intervalCells,
  intervalColumns,
  markLabels,
  OF_RANKING,
} from '../differenceIntervals';
import { compareSource } from './compareSource';
import { differenceNumbers } from './differenceNumbers';
import { forestRows } from './forestRows';

const WORDS = ['settled', 'probable', 'leaning', 'undecided'] as const;

/** Each setup against the baseline: does its interval reach over zero? */
export function differencesFigure(
  view: CompareView,
  baseline: ComparedSetup,
  display: Display,
): FigureDescription {
  const unit = display.consumption;
  const sense = senseOf(unit);
  const rows = forestRows(view.differences, ({ setup }) => setup.name, display);
  return {
    ...compareSource('differences', view, [baseline, ...view.others], display),
    title: titleOf(view, baseline, display),
    desc: rows.map((row) => `${row.label}: ${row.text}, ${row.note}`).join('. '),
    reading: `${differenceReading(OF_RANKING, display)} ${allPairs(view.fit?.pairsAtOnce ?? 0)} A difference is settled when the thin bar leaves zero out, probable when the interval for all pairs of its model does, leaning when only the thick bar does, else undecided, which does not mean equal. One that rests mainly on one tester is never settled. All of these intervals hold what is uncertain about the method and the models’ data, as far as it does not cancel; that part (u) stands in the table too. Degrees of freedom say how much driving an interval rests on: the fewer, the wider.`,
    counts: `worked out from ${view.fit?.runCount ?? 0} runs at ${view.classLabel} · ${view.fit?.pairsAtOnce ?? 0} comparable pairs`,
    drawing:
      rows.length === 0
        ? { kind: 'none', why: 'None of these pairs has an interval to draw; the sentences above say why.' }
        : {
            kind: 'forest',
            rows,
            axisLabel: `difference in ${sense.quantity} from ${setupInText(baseline.name)}, %`,
            ...markLabels(OF_RANKING),
          },
    table: {
      caption: 'Differences from the baseline',
      columns: [
        { header: 'Setup' },
        { header: 'Difference', unit: '%' },
        ...intervalColumns(OF_RANKING),
        { header: 'Degrees of freedom' },
        { header: 'Of which method and model data, u', unit: '%' },
        { header: 'Result', align: 'start' },
        { header: 'Joined by', align: 'start' },
      ],
      rows: view.differences.map((difference) => tableRow(difference, display)),
    },
  };
}

/** One difference in its own words, several by how many are how sure; a picture of it that travels names the car. */
function titleOf(view: CompareView, baseline: ComparedSetup, display: Display): string {
  const [only, second] = view.differences;
  const isOneModel = view.others.every(({ model }) => model === baseline.model);
  const of = isOneModel ? `${baseline.model} at ${view.classLabel}` : `At ${view.classLabel}`;
  if (only && !second) {
    const question = { setup: only.setup.name, baseline: baseline.name };
    return `${of}: ${answerOf(differenceNumbers(only), question, display).sentence}`;
  }
  const counted = WORDS.flatMap((word) => {
    const count = view.differences.filter((difference) => difference.word === word).length;
    return count === 0 ? [] : [`${count} ${word}`];
  });
  const without = view.differences.filter(({ word }) => word === null).length;
  const all = [...counted, ...(without > 0 ? [`${without} without an interval`] : [])].join(', ');
  return `${of}: ${view.differences.length} setups against ${setupInText(baseline.name)}: ${all}.`;
}

function tableRow(difference: SetupDifference, display: Display): TwinCell[] {
  const place = differencePlace(difference, display);
  const { setup, percent, dof, refusal, connection } = difference;
  const { sharedUPercent } = difference;
  return [
    { text: setup.name, href: `/setups/${setup.slug}` },
    percent === null ? '–' : signedText(percent, display, place),
    ...intervalCells(difference, OF_RANKING, display, place),
    dof === null ? '–' : showNumber(dof, 0, display),
    sharedUPercent === null ? '–' : showNumber(sharedUPercent, budgetPlace(place), display),
    refusal ?? resultText(difference),
    connection,
  ];
}

function allPairs(count: number): string {
  return count === 1
    ? 'The thin bar would hold for all comparable pairs at this speed at once, of which this is the only one.'
    : `The thin bar holds for all ${count} comparable pairs at this speed at once.`;
}
