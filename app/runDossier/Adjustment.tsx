import Link from 'next/link';
import { FigureWithTable } from '@/app/ui/figures/FigureWithTable';
import { Waterfall } from '@/app/ui/figures/Waterfall';
import { Notice } from '@/app/ui/Notice';
import type { NormalisedRun } from '@/lib/physics/normalise';
import { formatNumber, formatQuantity } from '@/lib/units/format';
import { decimalsFor, percent } from './numbers';
import { stepLabel } from './stepLabel';

/** From measured to comparable, one condition at a time, in the documented order. */
export function Adjustment({ run, classLabel }: { run: NormalisedRun; classLabel: string }) {
  const decimals = decimalsFor(run.uWhPerKm, 1, 2);
  const text = (value: number, signed = false) => formatNumber(value, decimals, { signed });
  let total = run.measuredWhPerKm;
  const steps = run.steps.map((step) => {
    const from = total;
    total += step.deltaWhPerKm;
    return { ...step, from, to: total, label: stepLabel(step.name, run.reference, classLabel) };
  });
  const change = run.normalisedWhPerKm / run.measuredWhPerKm - 1;
  return (
    <>
      {run.scaleFinding ? (
        <Notice
          kind={run.scaleFinding.level === 'fail' ? 'problem' : 'caution'}
          title={run.scaleFinding.message}
        />
      ) : null}
      <FigureWithTable
        caption={`Together ${formatQuantity(run.normalisedWhPerKm - run.measuredWhPerKm, 'Wh/km', { decimals, signed: true })} (${percent(change, 1, true)}). The measured road load is ${formatNumber(run.scale, 3)} times that of the car’s data, and every step is scaled by it.`}
        reading="The steps are always taken in this order, and each swaps one condition for its reference with the earlier ones already swapped; their sum is exactly the difference. Whiskers are standard uncertainties of a step; steps share inputs, so these do not add up in squares."
        tableCaption="Adjustment steps in their order"
        table={{
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
        }}
      >
        <Waterfall
          title="Adjustment steps from measured to reference conditions"
          desc={`From ${text(run.measuredWhPerKm)} Wh/km measured to ${text(run.normalisedWhPerKm)} Wh/km at reference conditions in ${steps.length} steps: ${steps.map((step) => `${step.label} ${text(step.deltaWhPerKm, true)}`).join(', ')}.`}
          axisLabel="consumption, Wh/km"
          measured={{
            label: 'Measured',
            value: run.measuredWhPerKm,
            text: `${text(run.measuredWhPerKm)} Wh/km`,
            u: run.uMeasuredWhPerKm,
          }}
          steps={steps.map((step) => ({
            key: step.name,
            label: step.label,
            from: step.from,
            to: step.to,
            u: step.uWhPerKm,
            text: `${text(step.deltaWhPerKm, true)} ± ${text(step.uWhPerKm)}`,
            totalText: `${text(step.to)} (${percent(step.factor - 1, 1, true)})`,
          }))}
          normalised={{
            label: 'At reference conditions',
            value: run.normalisedWhPerKm,
            text: `${text(run.normalisedWhPerKm)} Wh/km`,
            u: run.uWhPerKm,
          }}
        />
      </FigureWithTable>
      <p className="text-sm">
        <Link className="link" href="/method">
          The method, formula by formula
        </Link>
      </p>
    </>
  );
}
