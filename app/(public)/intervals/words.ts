import { cruiseClassByKey } from '@/lib/run/cruiseClass';
import type { CoverageCount } from '@/lib/stats/holds/coverage';
import { faultWords } from '@/lib/stats/holds/faultWords';
import { type IntervalsHold, LEAST_PREDICTED } from '@/lib/stats/holds/intervalsHold';
import { type SimulatedRow, summarise } from '@/lib/stats/holds/simulatedCoverage';
import { SIMULATED_KINDS } from '@/lib/stats/holds/simulatedKinds';
import { placeForInterval } from '@/lib/units/digits';
import type { Display } from '@/lib/units/display';
import { THIN_SPACE } from '@/lib/units/format';
import { showShare } from '@/lib/units/show';

/** A share in per cent, where the unit stands over it; to tenths, as finely as some hundreds of runs tell. */
export const sharePercent = (share: number, display: Display, decimals = 1) =>
  showShare(share, display, { decimals, bare: true });

const SMALLEST_CHANCE = 0.001;

/** A chance in per cent, never 0 or 100, which no finite number of runs earns. */
export function chancePercent(chance: number, display: Display): string {
  if (chance < SMALLEST_CHANCE) return `under ${sharePercent(SMALLEST_CHANCE, display)}`;
  if (chance > 1 - SMALLEST_CHANCE) return `over ${sharePercent(1 - SMALLEST_CHANCE, display)}`;
  return sharePercent(chance, display);
}

/** No finer than its interval supports. */
const sharePlace = (low: number, high: number) => Math.max(0, placeForInterval(100 * low, 100 * high));

/** "93.8 of 100" as "93.8", with how sure it is: "93.8 (89.1 to 96.6)". */
export function shareText({ inside, of, low, high }: CoverageCount, display: Display): string {
  if (of === 0) return '–';
  const place = sharePlace(low, high);
  return `${sharePercent(inside / of, display, place)} (${sharePercent(low, display, place)} to ${sharePercent(high, display, place)})`;
}

/** What a reader came for, in one or two sentences. */
export function answerText(classLabel: string, held: IntervalsHold, display: Display): string {
  const of95 = held.coverage.find(({ level }) => level === 0.95);
  if (held.faults === null || of95 === undefined) {
    const predicted = held.runs.predicted === 1 ? '1 run' : `${held.runs.predicted} runs`;
    return `At ${classLabel} it is too early to say: ${predicted} could be predicted from earlier ones, and it takes ${LEAST_PREDICTED}.`;
  }
  const place = sharePlace(of95.low, of95.high);
  const percent = (share: number) => sharePercent(share, display, place);
  const counted = `Of ${of95.of} runs at ${classLabel}, each predicted from what was approved before it, ${of95.inside} fell inside their 95 % interval: ${percent(of95.inside / of95.of)} %; by chance the true share may be anywhere from ${percent(of95.low)} to ${percent(of95.high)} %.`;
  return `${counted} ${faultWords(classLabel, held.faults) ?? 'Nothing speaks against the intervals of this class.'}`;
}

const GROUPS: Readonly<Record<string, string>> = {
  runs: 'whole worlds',
  demo: 'the demo world’s layout',
  loops: 'the same, loops differing',
  young: 'young registries',
  made: 'one model',
};

/** Where a row comes from; a group without words goes by its name. */
export const layoutText = ({ group, layout }: Pick<SimulatedRow, 'group' | 'layout'>) =>
  `${Object.hasOwn(GROUPS, group) ? GROUPS[group] : group}: ${cruiseClassByKey(layout)?.label ?? layout}`;

/** What the simulated table comes to. */
export function simulatedText(rows: readonly SimulatedRow[], display: Display): string {
  const { within, byChance, tooWide, tooNarrow } = summarise(rows);
  const chance =
    byChance === 0 ? '' : `, ${byChance} outside it by no more than so few worlds leave to chance`;
  const narrow =
    tooNarrow.length === 0
      ? 'None held less often than wanted.'
      : `${tooNarrow.length} held less often than wanted: ${listed(tooNarrow, display)}.`;
  const wide =
    tooWide.length === 0
      ? ''
      : ` ${tooWide.length} held more often than wanted, so ${tooWide.length === 1 ? 'it is' : 'they are'} wider than need be: ${listed(tooWide, display)}.`;
  return `Of ${rows.length} counts, ${within} lie within what is wanted${chance}. ${narrow}${wide}`;
}

const MOST_LISTED = 4;

/** The first few rows with their shares, the others as a number. */
function listed(rows: readonly SimulatedRow[], display: Display): string {
  const named = rows
    .slice(0, MOST_LISTED)
    .map(
      (row) =>
        `${SIMULATED_KINDS[row.kind]} in ${layoutText(row)} (${sharePercent(row.share, display)}${THIN_SPACE}%)`,
    );
  const rest = rows.length - named.length;
  return rest === 0 ? named.join('; ') : `${named.join('; ')}; and ${rest} more in the table`;
}
