import { Notice } from '@/app/ui/Notice';
import { Quantity } from '@/app/ui/Quantity';
import type { RunView } from '@/lib/registry/runs/run';
import { formatNumber, formatQuantity } from '@/lib/units/format';
import { fromCanonical, spreadFromCanonical, type UnitCode, unitSymbol } from '@/lib/units/unit';
import { consumptionDecimals, percent } from './numbers';

/** The comparable number beside the measured one, each with what it is uncertain by. */
export function Headline({ view, unit }: { view: RunView; unit: UnitCode }) {
  const normalisation = view.result?.normalisation;
  if (normalisation === undefined) {
    return (
      <Notice
        kind="caution"
        title={
          view.isResultUnreadable
            ? 'What was computed for this revision can no longer be read.'
            : 'Nothing was computed for this revision.'
        }
      />
    );
  }
  const { measuredWhPerKm: measured, uMeasuredWhPerKm: uMeasured } = normalisation;
  const shown = (whPerKm: number, decimals: number) => formatNumber(fromCanonical(whPerKm, unit), decimals);
  const measuredDecimals = consumptionDecimals(measured, uMeasured, unit);
  const measuredPart = (
    <div>
      <p className="text-sm font-semibold">As measured</p>
      <Quantity
        size="large"
        value={shown(measured, measuredDecimals)}
        unit={unitSymbol(unit)}
        interval={`standard uncertainty ${formatNumber(spreadFromCanonical(uMeasured, unit, measured), measuredDecimals)} ${unitSymbol(unit)}: reconciled energy over true distance`}
      />
    </div>
  );
  if (normalisation.outcome === 'outsideReach') {
    return (
      <div className="grid max-w-[46rem] gap-x-12 gap-y-6 sm:grid-cols-2">
        <div>
          <p className="text-sm font-semibold">At reference conditions</p>
          <p className="mt-1 font-serif text-xl font-semibold">No number</p>
          <p className="mt-1 text-sm text-ink-soft">Outside the reach of the method: see below why.</p>
        </div>
        {measuredPart}
      </div>
    );
  }
  const { normalisedWhPerKm, uWhPerKm, interval95 } = normalisation;
  const decimals = consumptionDecimals(normalisedWhPerKm, uWhPerKm, unit);
  const ends = interval95.map((end) => fromCanonical(end, unit)).sort((a, b) => a - b);
  const change = normalisedWhPerKm / measured - 1;
  return (
    <div className="grid max-w-[46rem] gap-x-12 gap-y-6 sm:grid-cols-2">
      <div>
        <p className="text-sm font-semibold">At reference conditions</p>
        <Quantity
          size="large"
          value={shown(normalisedWhPerKm, decimals)}
          unit={unitSymbol(unit)}
          interval={{
            low: formatNumber(ends[0] ?? Number.NaN, decimals),
            high: formatNumber(ends[1] ?? Number.NaN, decimals),
          }}
        />
        <p className="mt-1 text-sm text-ink-soft">
          {formatQuantity(normalisedWhPerKm, 'Wh/km', {
            decimals: consumptionDecimals(normalisedWhPerKm, uWhPerKm, 'Wh/km'),
          })}
          , {percent(change, 1, true)} from the measured consumption
        </p>
      </div>
      {measuredPart}
    </div>
  );
}
