import { placeForUncertainty } from '@/lib/units/digits';
import { formatNumber } from '@/lib/units/format';
import type { RunSimulation } from './monteCarlo';
import type { NormalisationResult, StepName } from './normalise';

const STEP_LABELS: Readonly<Record<StepName, string>> = {
  auxiliary: 'auxiliary power',
  elevation: 'net climb',
  stops: 'stops',
  wind: 'wind',
  density: 'air density',
  rollingTemperature: 'rolling temperature',
  speed: 'cruise speed',
};

const UNIT = 'Wh/km';

/** A result as a plain-text table: the steps as a running sum, then the budget, largest contribution first. */
export function describeResult(result: NormalisationResult, simulation: RunSimulation | null): string {
  const lines: string[] = [];
  const pair = (value: number, u: number) => {
    const decimals = u > 0 ? placeForUncertainty(u) : 3;
    return `${formatNumber(value, decimals)} ± ${formatNumber(u, decimals)} ${UNIT}`;
  };
  lines.push(`measured      ${pair(result.measuredWhPerKm, result.uMeasuredWhPerKm)}`);
  for (const finding of result.findings) lines.push(`finding       ${finding.message}`);
  if (result.outcome === 'outsideReach') {
    lines.push('normalised    none: outside the reach of the method');
    for (const reason of result.reach.reasons) lines.push(`  ${reason.message}`);
    return lines.join('\n');
  }
  const decimals = placeForUncertainty(Math.max(result.uWhPerKm, 1e-6));
  for (const step of result.steps) {
    lines.push(
      `  ${STEP_LABELS[step.name].padEnd(20)} ${formatNumber(step.deltaWhPerKm, decimals, { signed: true }).padStart(8)} ${UNIT}  ${formatNumber((step.factor - 1) * 100, 1, { signed: true }).padStart(6)} %  u ${formatNumber(step.uWhPerKm, decimals)}`,
    );
  }
  lines.push(`normalised    ${pair(result.normalisedWhPerKm, result.uWhPerKm)}`);
  lines.push(
    `95 % interval ${formatNumber(result.interval95[0], decimals)} to ${formatNumber(result.interval95[1], decimals)} ${UNIT}`,
  );
  lines.push(`scale         ${formatNumber(result.scale, 3)} of the car's stated road load`);
  if (result.scaleFinding !== null)
    lines.push(`${result.scaleFinding.level.padEnd(13)} ${result.scaleFinding.message}`);
  const scopes = Object.entries(result.uByScope).map(([scope, u]) => `${scope} ${formatNumber(u, decimals)}`);
  lines.push(`by scope      ${scopes.join(', ')} ${UNIT}`, '', 'budget');
  for (const entry of result.budget) {
    lines.push(
      `  ${entry.label.padEnd(40)} ${entry.scope.padEnd(8)} u ${entry.u.toPrecision(3).padStart(9)} ${entry.unit.padEnd(8)} ${formatNumber(entry.contributionWhPerKm, 3).padStart(8)} ${UNIT}  ${formatNumber(entry.shareOfVariance * 100, 1).padStart(5)} %`,
    );
  }
  if (simulation !== null) {
    lines.push(
      '',
      `simulated     ${pair(simulation.meanWhPerKm, simulation.uWhPerKm)} (${simulation.draws} draws, seed ${simulation.seed})`,
    );
    lines.push(
      simulation.nonLinearInput === null
        ? 'agreement     with the first-order uncertainty within 5 %'
        : `agreement     none: the model bends most with ${simulation.nonLinearInput.label.toLowerCase()}`,
    );
  }
  return lines.join('\n');
}
