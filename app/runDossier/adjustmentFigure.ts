import type { FigureDescription } from '@/app/ui/figures/description';
import type { NormalisedRun } from '@/lib/physics/normalise';
import type { Display } from '@/lib/units/display';
import { additiveUnit } from '@/lib/units/sense';
import { budgetPlace, placeOf, showNumber, showQuantity } from '@/lib/units/show';
import { fromCanonical, unitSymbol } from '@/lib/units/unit';
import { percent, shownResult } from './numbers';
import { type RunOfFigure, runSource } from './runSource';
import { stepLabel } from './stepLabel';

/** From measured to comparable, one condition at a time, in the documented order. */
export function adjustmentFigure(of: RunOfFigure, run: NormalisedRun, display: Display): FigureDescription {
  const unit = additiveUnit(display.consumption);
  const symbol = unitSymbol(unit);
  const result = shownResult(run, unit, display);
  const decimals = budgetPlace(result.decimals);
  const text = (whPerKm: number, signed = false) =>
    showQuantity(whPerKm, unit, display, { decimals, signed, bare: true });
  // what was measured stands at the place that its own uncertainty gives
  const whole = (whPerKm: number, uWhPerKm: number) =>
    showQuantity(whPerKm, unit, display, {
      decimals: placeOf(whPerKm, uWhPerKm, unit, display),
      bare: true,
    });
  const measured = whole(run.measuredWhPerKm, run.uMeasuredWhPerKm);
  const shown = (whPerKm: number) => fromCanonical(whPerKm, unit);
  let total = run.measuredWhPerKm;
  const steps = run.steps.map((step) => {
    const from = total;
    total += step.deltaWhPerKm;
    return {
      ...step,
      from,
      to: total,
      label: stepLabel(step.name, run.reference, of.subject.classLabel, display),
    };
  });
  return {
    ...runSource('adjustment', of, display),
    title: `Run ${of.number}: ${measured} ${symbol} measured, ${result.value} ${symbol} at reference conditions (95 % interval ${result.interval}).`,
    desc: `From ${measured} ${symbol} measured to ${result.value} ${symbol} (${result.interval}) at reference conditions in ${steps.length} steps: ${steps.map((step) => `${step.label} ${text(step.deltaWhPerKm, true)}`).join(', ')}.`,
    reading: `The car drew ${showNumber(run.scale, 3, display)} times what its data would lead one to expect, and every step is scaled by that. ${unit === display.consumption ? '' : 'Steps add up only as energy per distance. '}The steps are always taken in this order, and each swaps one condition for its reference with the earlier ones already swapped; their sum is exactly the difference. The bar about the result is its 95 % interval. Whiskers are standard uncertainties (±) of the measured number and of each step; steps share inputs, so these do not add up in squares.`,
    drawing: {
      kind: 'waterfall',
      axisLabel: `consumption, ${symbol}`,
      measured: {
        label: 'Measured',
        value: shown(run.measuredWhPerKm),
        text: `${measured} ${symbol}`,
        u: shown(run.uMeasuredWhPerKm),
      },
      steps: steps.map((step) => ({
        key: step.name,
        label: step.label,
        from: shown(step.from),
        to: shown(step.to),
        u: shown(step.uWhPerKm),
        text: `${text(step.deltaWhPerKm, true)} ± ${text(step.uWhPerKm)}`,
        totalText: `${text(step.to)} (${percent(step.factor - 1, 1, display, true)})`,
      })),
      normalised: {
        label: 'At reference conditions',
        value: shown(run.normalisedWhPerKm),
        text: `${result.value} ${symbol}`,
        note: result.interval,
        ends: [shown(run.interval95[0]), shown(run.interval95[1])],
      },
      intervalLabel: '95 % interval of the result',
    },
    table: {
      caption: 'Adjustment steps in their order',
      columns: [
        { header: 'Step' },
        { header: 'Size', unit: symbol },
        { header: 'Of the value before', unit: '%' },
        { header: 'Standard uncertainty', unit: symbol },
        { header: 'Running value', unit: symbol },
        { header: '95 % interval', unit: symbol },
      ],
      rows: [
        ['Measured', '', '', whole(run.uMeasuredWhPerKm, run.uMeasuredWhPerKm), measured, '–'],
        ...steps.map((step) => [
          step.label,
          text(step.deltaWhPerKm, true),
          showNumber(100 * (step.factor - 1), 2, display, { signed: true }),
          text(step.uWhPerKm),
          text(step.to),
          '–',
        ]),
        [
          'At reference conditions',
          '',
          '',
          showQuantity(run.uWhPerKm, unit, display, { decimals: result.decimals, bare: true }),
          result.value,
          result.interval,
        ],
      ],
    },
  };
}
