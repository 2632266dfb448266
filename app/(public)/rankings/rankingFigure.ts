import { countText } from '@/app/ui/countText';
import type { FigureDescription } from '@/app/ui/figures/description';
import { ZERO_LINE } from '@/app/ui/figures/zeroLine';
import { bySureness, shortAnswer } from '@/lib/answers/answer';
import { placeText } from '@/lib/answers/placeText';
import type { RankedSetup } from '@/lib/registry/rankings/rankedSetup';
import type { RankingGroup } from '@/lib/registry/rankings/rankingGroups';
import type { RankingView } from '@/lib/registry/rankings/rankings';
import { dateText } from '@/lib/run/localDate';
import { setupInText } from '@/lib/run/setupTitle';
import { type Display, displayParameters } from '@/lib/units/display';
import { senseOf } from '@/lib/units/sense';
import { fromCanonical, unitSymbol } from '@/lib/units/unit';
import { consumptionNumber, fittedNumber, fittedPlace, intervalText } from '../consumptionText';
import { differenceReading, markLabels, OF_RANKING } from '../differenceIntervals';
import { caveatsOf } from '../estimateCaveats';
import { plainWords } from './chosenWords';
import { hrefWith, one, type SearchParams } from './query';
import { AGAINST_COLUMNS, againstCells, consumptionRow, differenceRow, type RowContext } from './rankingRows';

/** What the address may choose of a ranking besides its class, group and unit. */
const CHOSEN = [
  'body',
  'cars',
  'from',
  'level',
  'model',
  'protocol',
  'runs',
  'show',
  'temp',
  'tyre',
] as const;

/** The setups of a group on one axis: of one model as differences from it as delivered, else as consumptions. */
export function rankingFigure(
  view: RankingView,
  group: RankingGroup,
  params: SearchParams,
  display: Display,
): FigureDescription {
  const { cruiseClassKey, world } = view.group;
  const said = Object.fromEntries(displayParameters(display));
  const chosen = Object.fromEntries(CHOSEN.map((name) => [name, one(params, name)]));
  const { baseline, bands } = group;
  const setups = rowsOf(view, group);
  const context: RowContext = {
    view,
    display,
    unit: said.unit,
    isOneModel: setups.every(({ modelSlug }) => modelSlug === setups[0]?.modelSlug),
    hasCounts: one(params, 'counts') === 'shown',
  };
  const plainBaseline = setups.find(({ setupId }) => setupId === baseline?.setupId);
  const isDifference = view.plain === null && baseline !== null;
  const symbol = unitSymbol(display.consumption);
  const { quantity, bestFirst } = senseOf(display.consumption);
  const rows = setups.map((setup) => (isDifference ? differenceRow : consumptionRow)(setup, context));
  const what = view.plain?.isRaw ? 'as measured' : 'at reference conditions';
  return {
    address: {
      kind: 'ranking',
      key: cruiseClassKey,
      query: { ...chosen, ...said, world, by: view.by, group: group.key },
    },
    title: titleOf(view, group, display),
    desc: rows
      .slice(0, 12)
      .map((row) => [`${row.label}: ${row.text}`, row.intervalText].filter(Boolean).join(', '))
      .join('. '),
    ...(isDifference
      ? {
          reading: `${differenceReading(OF_RANKING, display)} All of the ranking are all setups at this speed that can be compared with each other, each with each.`,
        }
      : setups.some(({ against }) => against !== null)
        ? {
            reading:
              'The bar is the 95 % interval of the number. The word in a row is about its difference from its model as delivered.',
          }
        : {}),
    counts: [
      `${setups.reduce((sum, { runs }) => sum + runs, 0)} runs of ${setups.length} setups`,
      what,
      ...plainWords(view, display),
    ].join(' · '),
    source: {
      path: hrefWith(
        '/rankings',
        {},
        {
          class: cruiseClassKey,
          ...chosen,
          ...said,
          world,
          by: view.by === 'body' ? 'body' : undefined,
        },
      ),
      asOf: dateText(view.fit.fittedAt),
    },
    isDemo: world === 'demo',
    mark: display.mark,
    drawing:
      rows.length === 0
        ? { kind: 'none', why: 'No setup meets these filters.' }
        : {
            kind: 'interval',
            label: `${group.title}, ${bestFirst}`,
            rows,
            bands,
            bandLabel: 'joined by a bar: no two can be told apart',
            ...(isDifference
              ? {
                  unit: '%',
                  axisLabel: `difference in ${quantity} from ${setupInText(baseline.title)}, %`,
                  reference: ZERO_LINE,
                  valueHead: 'Difference, %',
                  ...markLabels(OF_RANKING),
                  mutedLabel: 'undecided',
                }
              : {
                  unit: symbol,
                  axisLabel: `${quantity} ${what}, ${symbol}`,
                  ...(plainBaseline === undefined
                    ? {}
                    : {
                        reference: {
                          value: fromCanonical(plainBaseline.estimateWhPerKm, display.consumption),
                          label: `“${plainBaseline.title}”`,
                        },
                      }),
                  ...(view.plain === null
                    ? {}
                    : { markLabel: 'plain mean, without an interval', valueHead: symbol }),
                }),
          },
    table: tableOf(view, group, display),
  };
}

/** The surest difference of a model, or how far a group reaches: never a place that the intervals leave open. */
function titleOf(view: RankingView, group: RankingGroup, display: Display): string {
  const { title, baseline } = group;
  const rows = rowsOf(view, group);
  const at = `${title} at a steady ${view.classLabel}`;
  const [first] = rows;
  const last = rows.at(-1);
  if (first === undefined || last === undefined) return `No setup is ranked at a steady ${view.classLabel}.`;
  const told = rows
    .flatMap(({ title: name, against }) => (against === null ? [] : [{ ...against, name }]))
    .sort(bySureness);
  const [surest] = told;
  if (view.plain === null && baseline !== null && surest !== undefined) {
    return `${at}: ${setupInText(surest.name)}, ${shortAnswer(surest, display)} against ${setupInText(baseline.title)}.`;
  }
  const symbol = unitSymbol(display.consumption);
  const number = (setup: RankedSetup) => fittedNumber(setup, display);
  return first === last
    ? `${at}: ${first.title}, ${number(first)} ${symbol}.`
    : `${at}: ${rows.length} setups, from ${number(first)} to ${number(last)} ${symbol}.`;
}

function tableOf(view: RankingView, group: RankingGroup, display: Display): FigureDescription['table'] {
  const symbol = unitSymbol(display.consumption);
  const sense = senseOf(display.consumption);
  const { plain } = view;
  const raw = (setup: RankedSetup) =>
    consumptionNumber(setup.rawMeanWhPerKm, display, fittedPlace(setup, display));
  const setups = rowsOf(view, group);
  const rests = (setup: RankedSetup) => [countText(setup), ...caveatsOf(setup.label)].join('; ');
  if (plain !== null) {
    return {
      caption: `Plain means, ${group.title} at a steady ${view.classLabel}`,
      columns: [
        { header: 'Setup' },
        { header: 'Model', align: 'start' },
        { header: plain.isRaw ? 'Mean as measured' : 'Mean at reference conditions', unit: symbol },
        { header: 'Rests on', align: 'start' },
      ],
      rows: setups.map((setup) => [
        { text: setup.title, href: `/setups/${setup.slug}` },
        setup.model,
        consumptionNumber(setup.estimateWhPerKm, display),
        rests(setup),
      ]),
    };
  }
  return {
    caption: `${group.title} at a steady ${view.classLabel}`,
    columns: [
      { header: 'Setup' },
      { header: 'Model', align: 'start' },
      { header: capital(sense.quantity), unit: symbol },
      { header: '95 % interval', unit: symbol },
      ...AGAINST_COLUMNS,
      { header: 'Cannot be told apart from', align: 'start' },
      { header: 'As measured', unit: symbol },
      { header: 'Rank', align: 'start' },
      { header: 'Rests on', align: 'start' },
    ],
    rows: setups.map((setup, place) => [
      { text: setup.title, href: `/setups/${setup.slug}` },
      setup.model,
      fittedNumber(setup, display),
      intervalText(setup, display),
      ...againstCells(setup, display),
      group.together[place]?.map((other) => setups[other]?.title ?? '').join(', ') || '–',
      raw(setup),
      placeText(setup, view.rankedOf) ?? '–',
      rests(setup),
    ]),
  };
}

function capital(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}

const rowsOf = ({ ranked }: RankingView, { from, count }: RankingGroup) => ranked.slice(from, from + count);
