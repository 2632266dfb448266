import { countText } from '@/app/ui/countText';
import type { FigureDescription } from '@/app/ui/figures/description';
import { drawnSentence } from '@/lib/answers/estimateSentence';
import type { Display } from '@/lib/units/display';
import { additiveUnit } from '@/lib/units/sense';
import { budgetPlace, showEstimate, showQuantity } from '@/lib/units/show';
import { fromCanonical, unitSymbol } from '@/lib/units/unit';
import { type EstimateOfFigure, estimateSource } from './estimateSource';
import { STEP_WORDS } from './words';

/** From consumption at reference conditions to that on the trip: what each condition adds. */
export function stepsFigure(of: EstimateOfFigure, display: Display): FigureDescription {
  const { answered, speedMps } = of;
  const { first, of: from } = answered;
  const unit = additiveUnit(display.consumption);
  const symbol = unitSymbol(unit);
  const shown = (whPerKm: number) => fromCanonical(whPerKm, unit);
  const whole = showEstimate(first.whPerKm, unit, display);
  const decimals = budgetPlace(whole.decimals);
  const text = (whPerKm: number, signed = false) =>
    showQuantity(whPerKm, unit, display, { decimals, signed, bare: true });
  const reference = showQuantity(first.referenceWhPerKm, unit, display, {
    decimals: whole.decimals,
    bare: true,
  });
  let total = first.referenceWhPerKm;
  const steps = first.steps
    .map(({ name, deltaWhPerKm }) => {
      const before = total;
      total += deltaWhPerKm;
      return { name, label: STEP_WORDS[name], deltaWhPerKm, from: before, to: total };
    })
    // What would be written as nothing is not drawn as something.
    .filter(({ deltaWhPerKm }) => Math.abs(shown(deltaWhPerKm)) >= 0.5 * 10 ** -decimals);
  const title = drawnSentence(
    { setup: first.title, whPerKm: first.whPerKm, speedMps, airC: answered.asked.air },
    display,
  );
  return {
    ...estimateSource('estimate-steps', of, display),
    title,
    desc: `From ${reference} ${symbol} at reference conditions and ${from.label} to ${whole.value} ${symbol}${stepsWords(steps.map(({ label, deltaWhPerKm }) => `${label} ${text(deltaWhPerKm, true)}`))}.`,
    reading: `From the setup’s estimate at reference conditions and ${from.label} to the trip asked for${
      steps.length === 0
        ? ': the conditions change nothing that would show.'
        : '. Each step is what one condition adds once those above it are there.'
    }`,
    counts: countText({ runs: first.runs, cars: first.cars }),
    drawing: {
      kind: 'waterfall',
      axisLabel: `consumption, ${symbol}`,
      measured: {
        label: `At reference conditions, ${from.label}`,
        value: shown(first.referenceWhPerKm),
        text: `${reference} ${symbol}`,
      },
      steps: steps.map((step) => ({
        key: step.name,
        label: step.label,
        from: shown(step.from),
        to: shown(step.to),
        text: text(step.deltaWhPerKm, true),
        totalText: text(step.to),
      })),
      normalised: {
        label: 'On this trip',
        value: shown(first.whPerKm.value),
        ends: [shown(first.whPerKm.low), shown(first.whPerKm.high)],
        text: `${whole.value} ${symbol}`,
        note: whole.interval,
      },
      intervalLabel: 'where 95 of 100 such trips would lie',
    },
    table: {
      caption: 'What the conditions add, in their order',
      columns: [
        { header: 'Step' },
        { header: 'Size', unit: symbol },
        { header: 'Running value', unit: symbol },
      ],
      rows: [
        [`At reference conditions, ${from.label}`, '', reference],
        ...steps.map((step) => [step.label, text(step.deltaWhPerKm, true), text(step.to)]),
        ['On this trip', '', `${whole.value} (${whole.interval})`],
      ],
    },
  };
}

function stepsWords(steps: readonly string[]): string {
  return steps.length === 0 ? '; the conditions change nothing that would show' : `: ${steps.join(', ')}`;
}
