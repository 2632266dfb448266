import { Notice } from '@/app/ui/Notice';
import { Quantity } from '@/app/ui/Quantity';
import type { NormalisedRun } from '@/lib/physics/normalise';
import type { RunView } from '@/lib/registry/runs/run';
import type { Display } from '@/lib/units/display';
import { percentIn, senseOf } from '@/lib/units/sense';
import { placeOf, showNumber, showQuantity } from '@/lib/units/show';
import { spreadFromCanonical, unitSymbol } from '@/lib/units/unit';
import { shownResult } from './numbers';

/** The comparable number beside the measured one, each with what it is uncertain by. */
export function Headline({ view, display }: { view: RunView; display: Display }) {
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
  const unit = display.consumption;
  const place = placeOf(measured, uMeasured, unit, display);
  const measuredPart = (
    <div>
      <p className="text-sm font-semibold">As measured</p>
      <Quantity
        size="large"
        value={showQuantity(measured, unit, display, { decimals: place, bare: true })}
        unit={unitSymbol(display.consumption)}
        interval={`± ${showNumber(spreadFromCanonical(uMeasured, unit, measured), place, display)} ${unitSymbol(display.consumption)}, off by less in two cases of three: energy by all its readings, over the true distance`}
      />
    </div>
  );
  if (normalisation.outcome === 'outsideReach') {
    return (
      <div className="grid max-w-[46rem] gap-x-12 gap-y-6 sm:grid-cols-2">
        <div>
          <p className="text-sm font-semibold">At reference conditions</p>
          <p className="mt-1 font-serif text-xl font-semibold">No number</p>
          <p className="mt-1 text-sm text-ink-soft">
            The method cannot adjust for these conditions; the reasons stand below.
          </p>
        </div>
        {measuredPart}
      </div>
    );
  }
  const shown = shownResult(normalisation, unit, display);
  return (
    <div className="grid max-w-[46rem] gap-x-12 gap-y-6 sm:grid-cols-2">
      <div>
        <p className="text-sm font-semibold">At reference conditions</p>
        <Quantity
          size="large"
          value={shown.value}
          unit={shown.symbol}
          interval={{ low: shown.low, high: shown.high }}
        />
        <p className="mt-1 text-sm text-ink-soft">{changeFromMeasured(normalisation, display)}</p>
      </div>
      {measuredPart}
    </div>
  );
}

/** Most of the two numbers' uncertainty is shared, so the change is known better than either: to tenths of a per cent. */
function changeFromMeasured(run: NormalisedRun, display: Display): string {
  const change = percentIn(display.consumption, 100 * (run.normalisedWhPerKm / run.measuredWhPerKm - 1));
  return `${showNumber(change, 1, display, { signed: true })} % from the measured ${senseOf(display.consumption).quantity}`;
}
