import { layOutCase } from './caseInputs';
import type { NormalisationCase } from './caseSchema';
import { indexOfInput } from './inputs';
import type { NormalisedRun } from './normalise';
import { solveProfile } from './profile';
import { windLeftOnLoop } from './wind';

/** What the wind still did to a run although its loop leads back to the start. */
export interface WindLeft {
  alongWindMps: number;
  crossWindMps: number;
  /** Distance-weighted mean over the loop: the part that cancels. */
  meanHeadwindMps: number;
  /** Shares by which air drag rose: along the route, across it, together. */
  alongOfAero: number;
  crossOfAero: number;
  ofAero: number;
  /** Of the measured consumption. */
  ofConsumption: number;
  leftWhPerKm: number;
  uLeftWhPerKm: number;
}

/**
 * A loop cancels the mean headwind, not its square (method A4). The size in Wh/km is the run's own wind step; the shares
 * follow from it and from the winds the step was made with.
 */
export function windLeftOnRun(input: NormalisationCase, run: NormalisedRun): WindLeft {
  const { x } = layOutCase(input);
  const alongWindMps = x[indexOfInput('alongWindMps')] as number;
  const crossWindMps = x[indexOfInput('crossWindMps')] as number;
  const step = run.steps.find(({ name }) => name === 'wind');
  const leftWhPerKm = -(step?.deltaWhPerKm ?? 0);
  const left = (along: number, cross: number, aeroShare: number) =>
    windLeftOnLoop({
      speedMps: Math.sqrt(solveProfile(input.run).meanSquareSpeedM2S2),
      alongWindMps: along,
      crossWindMps: cross,
      yawDragPerRad2: x[indexOfInput('yawDragPerRad2')] as number,
      aeroShare,
    });
  const { ofAero } = left(alongWindMps, crossWindMps, 0);
  // The step is the share of a drag that thereby is known: no wind, no step, and nothing to divide.
  const calmWhPerKm = run.measuredWhPerKm - leftWhPerKm;
  const aeroShare = ofAero > 0 ? leftWhPerKm / ofAero / calmWhPerKm : 0;
  return {
    alongWindMps,
    crossWindMps,
    meanHeadwindMps: input.run.meanHeadwindMps ?? 0,
    alongOfAero: left(alongWindMps, 0, 0).ofAero,
    crossOfAero: left(0, crossWindMps, 0).ofAero,
    ofAero,
    ofConsumption: left(alongWindMps, crossWindMps, aeroShare).ofConsumption,
    leftWhPerKm,
    uLeftWhPerKm: step?.uWhPerKm ?? 0,
  };
}
