import { countText } from '@/app/ui/countText';
import type { FigureDescription } from '@/app/ui/figures/description';
import type { IntervalRow } from '@/app/ui/figures/intervalRow';
import { ZERO_LINE } from '@/app/ui/figures/zeroLine';
import { bySureness, shortAnswer } from '@/lib/answers/answer';
import { placeText } from '@/lib/answers/placeText';
import type { OtherRanked } from '@/lib/openData/other/ranked';
import type { OtherRankingView } from '@/lib/registry/otherRegistries/otherRanking';
import type { RankingGroup } from '@/lib/registry/rankings/rankingGroups';
import { dateText } from '@/lib/run/localDate';
import { setupInText } from '@/lib/run/setupTitle';
import type { Display } from '@/lib/units/display';
import { senseOf } from '@/lib/units/sense';
import { unitSymbol } from '@/lib/units/unit';
import { fittedNumber, intervalText } from '../consumptionText';
import { differenceReading, markLabels, OF_RANKING } from '../differenceIntervals';
import { caveatsOf } from '../estimateCaveats';
import {
  AGAINST_COLUMNS,
  againstCells,
  consumptionRow,
  differenceRow,
  type RowContext,
} from '../rankings/rankingRows';
import { otherHref } from './otherHref';

/** The setups of one of their models on one axis, as their fit has them. It has no files: theirs are theirs to give. */
export function otherFigure(
  view: OtherRankingView,
  group: RankingGroup,
  display: Display,
  hasCounts: boolean,
): FigureDescription {
  const { source, classLabel } = view;
  const setups = view.ranked.slice(group.from, group.from + group.count);
  const { baseline, bands } = group;
  const { quantity, bestFirst } = senseOf(display.consumption);
  const symbol = unitSymbol(display.consumption);
  const rows = setups.map((setup) =>
    rowOf(setup, view, display, { hasCounts, isDifference: baseline !== null }),
  );
  const at = `${group.title} at a steady ${classLabel}, by ${source.name}`;
  const [surest] = setups
    .flatMap(({ title, against }) => (against === null ? [] : [{ ...against, title }]))
    .sort(bySureness);
  return {
    title:
      baseline !== null && surest !== undefined
        ? `${at}: ${setupInText(surest.title)}, ${shortAnswer(surest, display)} against ${setupInText(baseline.title)}.`
        : `${at}: ${setups.length} ${setups.length === 1 ? 'setup' : 'setups'}.`,
    desc: rows
      .slice(0, 12)
      .map((row) => [`${row.label}: ${row.text}`, row.intervalText].filter(Boolean).join(', '))
      .join('. '),
    ...(baseline === null ? {} : { reading: differenceReading(OF_RANKING, display) }),
    counts: `${setups.reduce((sum, { runs }) => sum + runs, 0)} runs · at reference conditions`,
    source: {
      path: `/rankings?class=${view.group.cruiseClassKey}&world=${source.world}`,
      asOf: dateText(source.asOf),
    },
    isDemo: source.isInvented,
    mark: display.mark,
    drawing: {
      kind: 'interval',
      label: `${group.title}, ${bestFirst}`,
      rows,
      bands,
      bandLabel: 'joined by a bar: no two can be told apart',
      ...(baseline === null
        ? { unit: symbol, axisLabel: `${quantity} at reference conditions, ${symbol}` }
        : {
            unit: '%',
            axisLabel: `difference in ${quantity} from ${setupInText(baseline.title)}, %`,
            reference: ZERO_LINE,
            valueHead: 'Difference, %',
            ...markLabels(OF_RANKING),
            mutedLabel: 'undecided',
          }),
    },
    table: {
      caption: at,
      columns: [
        { header: 'Setup' },
        { header: capital(quantity), unit: symbol },
        { header: '95 % interval', unit: symbol },
        ...AGAINST_COLUMNS,
        { header: 'Rank', align: 'start' },
        { header: 'Rests on', align: 'start' },
      ],
      rows: setups.map((setup) => [
        { text: setup.title, href: otherHref(source.world, 'setups', setup.setupId) },
        fittedNumber(setup, display),
        intervalText(setup, display),
        ...againstCells(setup, display),
        placeText(setup, view.rankedOf) ?? '–',
        [countText(setup), ...caveatsOf(setup.label)].join('; '),
      ]),
    },
  };
}

/** A row as for our own, leading to their pages here: a comparison of theirs is not computed here. */
function rowOf(
  setup: OtherRanked,
  view: OtherRankingView,
  display: Display,
  { hasCounts, isDifference }: { hasCounts: boolean; isDifference: boolean },
): IntervalRow {
  const context: RowContext = {
    view: { group: view.group, rankedOf: view.rankedOf, plain: null },
    display,
    isOneModel: true,
    hasCounts,
  };
  const { against, ...row } = (isDifference ? differenceRow : consumptionRow)(setup, context);
  return {
    ...row,
    href: otherHref(view.source.world, 'setups', setup.setupId),
    ...(against === undefined ? {} : { against: { text: against.text } }),
  };
}

const capital = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);
