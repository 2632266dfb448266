import { countText } from '@/app/ui/countText';
import type { TwinCell, TwinTable } from '@/app/ui/figures/description';
import type { IntervalRow } from '@/app/ui/figures/intervalRow';
import { resultText } from '@/lib/answers/answer';
import { differencePlace, differenceText, endsText, signedText } from '@/lib/answers/differenceText';
import { placeText } from '@/lib/answers/placeText';
import type { RankedSetup } from '@/lib/registry/rankings/rankedSetup';
import type { RankingView } from '@/lib/registry/rankings/rankings';
import { earnedInterval } from '@/lib/stats/statedDifference';
import type { Display } from '@/lib/units/display';
import { percentIn } from '@/lib/units/sense';
import { compareHref } from '../compare/compareQuery';
import { fittedText, intervalText } from '../consumptionText';
import { drawnIntervals, intervalCells, intervalColumns, OF_RANKING } from '../differenceIntervals';
import { caveatsOf } from '../estimateCaveats';
import { fittedRow } from '../fittedRow';

/** What a row of any ranking needs to know of it. */
export interface RowContext {
  view: Pick<RankingView, 'group' | 'rankedOf' | 'plain'>;
  display: Display;
  /** Unit that the address asks for. */
  unit?: string | undefined;
  /** The rows are of one model, so that it need not be said in each. */
  isOneModel: boolean;
  /** Counts, places and caveats under the row. */
  hasCounts: boolean;
}

/** A setup by its consumption; its interval where the fit gives one. */
export function consumptionRow(setup: RankedSetup, context: RowContext): IntervalRow {
  const { display, view } = context;
  const { counts: _counts, detail: _model, intervalText: ends, ...row } = fittedRow(setup, display);
  return {
    ...row,
    ...(view.plain === null ? { intervalText: ends } : {}),
    ...detailOf(setup, context),
    against: againstLink(setup, context.view, context.unit),
    ...onDemand(setup, context),
    muted: !setup.isRanked,
  };
}

/** What a plain mean is of is no less than the mean. */
function detailOf(setup: RankedSetup, { view, isOneModel }: RowContext): Pick<IntervalRow, 'detail'> {
  const parts = [...(view.plain === null ? [] : [countText(setup)]), ...(isOneModel ? [] : [setup.model])];
  return parts.length === 0 ? {} : { detail: parts.join(', ') };
}

/** A setup of a model by its difference from the model as delivered. */
export function differenceRow(setup: RankedSetup, context: RowContext): IntervalRow {
  const { display } = context;
  const unit = display.consumption;
  const { against: difference } = setup;
  const percent = difference?.percent ?? null;
  const { word = null } = difference ?? {};
  const earned = difference === null ? null : earnedInterval(difference);
  const isBaseline = setup.baseline?.setupId === setup.setupId;
  const { inner, strokes, outer } = difference === null ? NOTHING_DRAWN : drawnIntervals(difference, unit);
  const place = difference === null ? 0 : differencePlace(difference, display);
  return {
    key: setup.setupId,
    label: setup.title,
    href: `/setups/${setup.slug}`,
    detail: `${fittedText(setup, display)} (${intervalText(setup, display)})`,
    estimate: isBaseline ? 0 : percent === null ? Number.NaN : percentIn(unit, percent),
    ...(inner ? { low: inner[0], high: inner[1] } : {}),
    ...(outer ? { outerLow: outer[0], outerHigh: outer[1] } : {}),
    ...(strokes ? { strokes } : {}),
    text: isBaseline ? '0' : percent === null ? '–' : signedText(percent, display, place),
    ...(isBaseline ? {} : { intervalText: earned === null ? 'none yet' : endsText(earned, display, place) }),
    muted: word === null ? !isBaseline : word === 'undecided',
    against: againstLink(setup, context.view, context.unit),
    ...onDemand(setup, context),
  };
}

const NOTHING_DRAWN: Partial<ReturnType<typeof drawnIntervals>> = {};

/** One click from every row to the comparison with the model as delivered. */
export function againstLink(
  { baseline, setupId, slug, against }: RankedSetup,
  { group }: Pick<RankingView, 'group'>,
  unit: string | undefined,
): NonNullable<IntervalRow['against']> {
  if (baseline === null) return { text: 'not driven as delivered' };
  if (baseline.setupId === setupId) return { text: 'as delivered' };
  const { cruiseClassKey, world } = group;
  return {
    // what it is held against stands on the axis and in the row of zero: in words it is for whoever hears the link alone
    text: against === null ? 'compare' : against.word === null ? 'no answer yet' : resultText(against),
    more: ', against the car as delivered',
    href: compareHref({}, { class: cruiseClassKey, world, unit }, [baseline.slug, slug]),
  };
}

function onDemand(setup: RankedSetup, { hasCounts, view }: RowContext): Partial<IntervalRow> {
  if (!hasCounts) return {};
  const caveats = caveatsOf(setup.label);
  const rank = placeText(setup, view.rankedOf);
  return {
    counts: countText(setup),
    ...(rank === undefined ? {} : { rank }),
    ...(caveats.length > 0 ? { caveat: caveats.join('; ') } : {}),
  };
}

/** "−1.3 % (−2.3 to −0.2)", or that it is the one that others are held against: where a table has one column for it. */
export function againstText(setup: RankedSetup, display: Display): string {
  if (setup.baseline === null) return '–';
  if (setup.baseline.setupId === setup.setupId) return 'as delivered';
  return setup.against === null ? '–' : differenceText(setup.against, display);
}

/** The columns of a table that say what a ranking's rows say of their models as delivered. */
export const AGAINST_COLUMNS: TwinTable['columns'] = [
  { header: 'Against the car as delivered', unit: '%' },
  ...intervalColumns(OF_RANKING),
  { header: 'Result', align: 'start' },
];

/** "−1.3", or that it is the one that others are held against; its intervals, and the word that they earn. */
export function againstCells({ setupId, baseline, against }: RankedSetup, display: Display): TwinCell[] {
  const place = against === null ? 0 : differencePlace(against, display);
  const percent = against?.percent ?? null;
  return [
    baseline?.setupId === setupId ? '0' : percent === null ? '–' : signedText(percent, display, place),
    ...intervalCells(against, OF_RANKING, display, place),
    against === null ? '–' : (against.refusal ?? resultText(against)),
  ];
}

/** What a setup still lacks, in words, and what its layout leaves unseen. */
export function missingText(setup: Pick<RankedSetup, 'missing' | 'label'>): string {
  const lacks = setup.missing
    .map(({ what, have, need }) =>
      what === 'vouched' ? 'a tester whom somebody vouches for' : `${have} of ${need} ${what}`,
    )
    .join(', ');
  return [lacks, ...caveatsOf(setup.label)].filter((part) => part !== '').join('; ') || 'nothing missing';
}
