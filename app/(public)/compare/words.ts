import type { SetupDifference } from '@/lib/registry/comparisons/compare';
import { formatNumber } from '@/lib/units/format';

/** "−3.1", where the unit stands over it. */
export function signedText(percent: number, decimals = 1): string {
  return formatNumber(percent, decimals, { signed: true });
}

/** "−3.1 %", with a sign, because a difference has a direction. */
export function percentText(percent: number, decimals = 1): string {
  return `${signedText(percent, decimals)} %`;
}

export function endsText(ends: readonly [number, number], decimals = 1): string {
  const [low, high] = ends;
  return `${signedText(low, decimals)} to ${signedText(high, decimals)}`;
}

/** "−3.1 % (−5.0 to −1.2)" */
export function differenceText({ percent, simultaneous, pointwise }: SetupDifference): string {
  if (percent === null) return 'not compared';
  const ends = simultaneous ?? pointwise;
  return ends === null ? percentText(percent) : `${percentText(percent)} (${endsText(ends)})`;
}

/** The word for the strength of the evidence, and why it is not a stronger one. */
export function resultText({ word, restsOnOne }: Pick<SetupDifference, 'word' | 'restsOnOne'>): string {
  if (word === null) return 'no interval';
  return restsOnOne ? `${word}, rests on one tester` : word;
}

/** One sentence that a reader may quote. */
export function verdict(difference: SetupDifference, baselineName: string): string {
  const { setup, percent, simultaneous, pointwise, word } = difference;
  const name = `“${setup.name}”`;
  if (percent === null) {
    return `${name} against “${baselineName}”: no difference can be stated. ${difference.refusal ?? ''}`.trim();
  }
  if (simultaneous === null) {
    return `${name} against “${baselineName}”: ${percentText(percent)}, but without an interval. ${difference.refusal ?? ''}`.trim();
  }
  const interval = `95 % interval ${endsText(simultaneous)} %, held for all pairs of the class at once`;
  const uses = `${formatNumber(Math.abs(percent), 1)} % ${percent < 0 ? 'less' : 'more'} than “${baselineName}”`;
  if (difference.restsOnOne) {
    const uncertain = word === 'probable' ? `${name} probably uses` : `The runs lean toward ${name} using`;
    return `${uncertain} ${uses} (${interval}). It would be settled, but rests on one tester.`;
  }
  switch (word) {
    case 'settled':
      return `${name} uses ${uses} (${interval}).`;
    case 'probable':
      return `${name} probably uses ${uses}: it holds among the pairs of this model, not among all of the class (${interval}).`;
    case 'leaning':
      return `The runs lean toward ${name} using ${uses}: it holds for this pair taken alone${pointwise === null ? '' : ` (95 % interval ${endsText(pointwise)} %)`}, not among all that were compared (${interval}).`;
    default:
      return `${name} and “${baselineName}” cannot be told apart with these data: ${percentText(percent)} (${interval}).`;
  }
}
