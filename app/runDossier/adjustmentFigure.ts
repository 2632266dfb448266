import type { FigureDescription } from '@/app/ui/figures/description';
import type { NormalisedRun } from '@/lib/physics/normalise';
import { formatNumber, formatQuantity } from '@/lib/units/format';
import { decimalsFor, percent } from './numbers';
import { type RunOfFigure, runSource } from './runSource';
import { stepLabel } from './stepLabel';

/** From measured to comparable, one condition at a time, in the documented order. */
export function adjustmentFigure(of: RunOfFigure, run: NormalisedRun): FigureDescription {
  const decimals = decimalsFor(run.uWhPerKm, 1, 2);
  const text = (value: number, signed = false) => formatNumber(value, decimals, { signed });
  let total = run.measuredWhPerKm;
  const steps = run.steps.map((step) => {
    const from = total;
    total += step.deltaWhPerKm;
    return { ...step, from, to: total, label: stepLabel(step.name, run.reference, of.subject.classLabel) };
  });
  const change = run.normalisedWhPerKm / run.measuredWhPerKm - 1;
  const together = formatQuantity(run.normalisedWhPerKm - run.measuredWhPerKm, 'Wh/km', {
    decimals,
    signed: true,
  });
  return {
    ...runSource('adjustment', of),
    title: `Run ${of.number}: ${text(run.measuredWhPerKm)} Wh/km measured, ${text(run.normalisedWhPerKm)} Wh/km at reference conditions, together ${together} (${percent(change, 1, true)}).`,
    desc: `From ${text(run.measuredWhPerKm)} Wh/km measured to ${text(run.normalisedWhPerKm)} Wh/km at reference conditions in ${steps.length} steps: ${steps.map((step) => `${step.label} ${text(step.deltaWhPerKm, true)}`).join(', ')}.`,
    reading: `The measured road load is ${formatNumber(run.scale, 3)} times that of the car’s data, and every step is scaled by it. The steps are always taken in this order, and each swaps one condition for its reference with the earlier ones already swapped; their sum is exactly the difference. Whiskers are standard uncertainties of a step; steps share inputs, so these do not add up in squares.`,
    drawing: {
      kind: 'waterfall',
      axisLabel: 'consumption, Wh/km',
      measured: {
        label: 'Measured',
        value: run.measuredWhPerKm,
        text: `${text(run.measuredWhPerKm)} Wh/km`,
        u: run.uMeasuredWhPerKm,
      },
      steps: steps.map((step) => ({
        key: step.name,
        label: step.label,
        from: step.from,
        to: step.to,
        u: step.uWhPerKm,
        text: `${text(step.deltaWhPerKm, true)} ± ${text(step.uWhPerKm)}`,
        totalText: `${text(step.to)} (${percent(step.factor - 1, 1, true)})`,
      })),
      normalised: {
        label: 'At reference conditions',
        value: run.normalisedWhPerKm,
        text: `${text(run.normalisedWhPerKm)} Wh/km`,
        u: run.uWhPerKm,
      },
    },
    table: {
      caption: 'Adjustment steps in their order',
      columns: [
        { header: 'Step' },
        { header: 'Size', unit: 'Wh/km' },
        { header: 'Of the value before', unit: '%' },
        { header: 'Standard uncertainty', unit: 'Wh/km' },
        { header: 'Running value', unit: 'Wh/km' },
      ],
      rows: [
        ['Measured', '', '', text(run.uMeasuredWhPerKm), text(run.measuredWhPerKm)],
        ...steps.map((step) => [
          step.label,
          text(step.deltaWhPerKm, true),
          formatNumber(100 * (step.factor - 1), 2, { signed: true }),
          text(step.uWhPerKm),
          text(step.to),
        ]),
        ['At reference conditions', '', '', text(run.uWhPerKm), text(run.normalisedWhPerKm)],
      ],
    },
  };
}
