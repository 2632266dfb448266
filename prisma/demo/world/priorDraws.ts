import { auxiliaryPowerPrior, batteryTemperatureHalfWidth } from '@/lib/physics/priors';
import { RandomStream } from './randomStream';

/** What an error is shared by: method A6's scopes. */
export type DrawnScope = 'run' | 'session' | 'car' | 'model' | 'method';
export const DRAWN_SCOPES: readonly DrawnScope[] = ['run', 'session', 'car', 'model', 'method'];

export interface TruthOptions {
  /** Scopes in which the truth departs from the priors' centres; all unless given. */
  readonly scopes?: readonly DrawnScope[];
  /** By how much farther than the priors say: 1 unless given. */
  readonly stretch?: number;
}

/**
 * Where the truth of a world lies within the priors: each departure is one draw in units of its standard uncertainty,
 * named by what it belongs to, so that all runs of one scope share it.
 */
export class PriorDraws {
  private readonly scopes: ReadonlySet<DrawnScope>;
  private readonly stretch: number;

  constructor(
    private readonly seed: number,
    { scopes = DRAWN_SCOPES, stretch = 1 }: TruthOptions = {},
  ) {
    this.scopes = new Set(scopes);
    this.stretch = stretch;
  }

  has(scope: DrawnScope): boolean {
    return this.scopes.has(scope);
  }

  normal(scope: DrawnScope, what: string): number {
    if (!this.has(scope)) return 0;
    return this.stretch * new RandomStream(this.seed, `prior ${what}`).normal(0, 1);
  }

  /** Of unit standard deviation. */
  rectangular(scope: DrawnScope, what: string): number {
    if (!this.has(scope)) return 0;
    return this.stretch * Math.sqrt(3) * new RandomStream(this.seed, `prior ${what}`).uniform(-1, 1);
  }
}

/** What battery temperature adds to the energy drawn, as a share: in part common to all cars, in part the day's. */
export function batteryTemperatureShare(draws: PriorDraws, temperatureC: number, sessionKey: string): number {
  const part = (0.7 * batteryTemperatureHalfWidth(temperatureC)) / Math.sqrt(3);
  return (
    part * (draws.rectangular('method', 'battery') + draws.rectangular('session', `battery ${sessionKey}`))
  );
}

/** Auxiliary power about its prior: a habit of the car and of the day. */
export function trueAuxiliaryW(
  draws: PriorDraws,
  climate: Parameters<typeof auxiliaryPowerPrior>[0],
  temperatureC: number,
  hasHeatPump: boolean,
  of: { carKey: string; sessionKey: string },
): number {
  const { valueW, uW } = auxiliaryPowerPrior(climate, temperatureC, hasHeatPump);
  const habit = 0.8 * draws.normal('car', `auxiliary ${of.carKey}`);
  const day = 0.6 * draws.normal('session', `auxiliary ${of.sessionKey}`);
  return Math.max(0, valueW + uW * (habit + day));
}
