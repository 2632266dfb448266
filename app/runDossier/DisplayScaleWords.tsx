import type { DisplayScale } from '@/lib/physics/displayScale';
import type { Display } from '@/lib/units/display';
import { showNumber, showPercentEstimate } from '@/lib/units/show';

/** Normal, 95 %: conversions and prior are known so, not estimated from these runs. */
const COVERAGE = 1.96;

/** What a car's charger and charge readings say of its energy display, in everyday words. */
export function DisplayScaleWords({ scale, display }: { scale: DisplayScale | null; display: Display }) {
  if (scale === null) {
    return (
      <p className="max-w-[38rem]">
        Nothing can be said yet of how rightly this car’s display counts energy: no approved run of it has a
        charger’s reading, or the state of charge beside a known usable capacity, to hold it against.
      </p>
    );
  }
  // ln(other/shown) is what was estimated; readers ask by how much the display is off
  const moreBy = (lnRatio: number) => 100 * Math.expm1(-lnRatio);
  const percent = moreBy(scale.scale);
  const [low, high] = [moreBy(scale.scale + COVERAGE * scale.u), moreBy(scale.scale - COVERAGE * scale.u)];
  const { decimals } = showPercentEstimate({ percent, low, high }, display);
  const size = showNumber(Math.abs(percent), decimals, display);
  const half = showNumber((high - low) / 2, decimals, display);
  const isSome = size !== showNumber(0, decimals, display);
  return (
    <p className="max-w-[38rem]">
      This car’s display reads{' '}
      {isSome ? (
        <>
          {size}&#8239;%&#8239;±&#8239;{half}&#8239;% {percent > 0 ? 'more' : 'less'} than
        </>
      ) : (
        <>the same, within ±&#8239;{half}&#8239;%, as</>
      )}{' '}
      its charger and charge readings say (95&nbsp;%; {scale.ratios}{' '}
      {scale.ratios === 1 ? 'comparison' : 'comparisons'} in its newest approved runs, with what is believed
      of any display).
      {isSome && low < 0 && high > 0 ? ' It may as well be right.' : ''}
      {scale.isFinding
        ? ' The readings lie farther apart than they should: the display, the charger, the charging losses or the usable capacity is not as it is taken to be.'
        : ''}{' '}
      No result is moved by it.
    </p>
  );
}
