import { cruiseClassByKey } from '@/lib/run/cruiseClass';
import type { CoverageCount } from '@/lib/stats/holds/coverage';
import { faultWords } from '@/lib/stats/holds/faultWords';
import { type IntervalsHold, LEAST_PREDICTED } from '@/lib/stats/holds/intervalsHold';
import type { SimulatedRow } from '@/lib/stats/holds/simulatedCoverage';
import type { Display } from '@/lib/units/display';
import { showShare } from '@/lib/units/show';

/** A share in per cent, where the unit stands over it; to tenths, as finely as some hundreds of runs tell. */
export const sharePercent = (share: number, display: Display, decimals = 1) =>
  showShare(share, display, { decimals, bare: true });

/** "93.8 of 100" as "93.8", with how sure it is: "93.8 (89.1 to 96.6)". */
export function shareText({ inside, of, low, high }: CoverageCount, display: Display): string {
  if (of === 0) return '–';
  return `${sharePercent(inside / of, display)} (${sharePercent(low, display)} to ${sharePercent(high, display)})`;
}

/** What a reader came for, in one or two sentences. */
export function answerText(classLabel: string, held: IntervalsHold, display: Display): string {
  const of95 = held.coverage.find(({ level }) => level === 0.95);
  if (held.faults === null || of95 === undefined) {
    const predicted = held.runs.predicted === 1 ? '1 run' : `${held.runs.predicted} runs`;
    return `At ${classLabel} it is too early to say: ${predicted} could be predicted from earlier ones, and ${LEAST_PREDICTED} are asked for.`;
  }
  const counted = `Of ${of95.of} runs at ${classLabel}, each predicted from what was approved before it, ${of95.inside} fell inside their 95 % interval: ${sharePercent(of95.inside / of95.of, display)} %, where chance would allow the true share to be ${sharePercent(of95.low, display)} to ${sharePercent(of95.high, display)} %.`;
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
