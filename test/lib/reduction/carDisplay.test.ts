import { describe, expect, it } from 'vitest';
import {
  energyFromCharge,
  energyFromCharger,
  energyFromDisplay,
  reconcileEnergy,
} from '@/lib/physics/reconcile';
import { carDisplayScale } from '@/lib/reduction/carDisplay';

const shown = (kWh: number) => energyFromDisplay(1000 * kWh, 50);
/** What charged the car says after the conversions of the method: 92 % DC, 88 % AC. */
const dc = (kWh: number) => energyFromCharger((1000 * kWh) / 0.92, 50, 'dc');
const ac = (kWh: number) => energyFromCharger((1000 * kWh) / 0.88, 50, 'ac');
const level = (kWh: number) => energyFromCharge(0.8, 0.8 - kWh / 100, 100_000, 3000);

describe('the energy display of a car against its charger and charge readings', () => {
  it('of one run is the prior updated by each source, worked out by hand', () => {
    // ln ratios 0.02 by DC and −0.01 by charge; digits: 50/√3 Wh of 30 kWh shown, 46/√3 Wh by DC, 408 Wh by charge
    const energy = reconcileEnergy([shown(30), dc(30 * Math.exp(0.02)), level(30 * Math.exp(-0.01))]);
    const ofShown = (50 / Math.sqrt(3) / 30_000) ** 2;
    const variance = {
      dc: (0.03 / 0.92) ** 2 + ((50 * 0.92) / Math.sqrt(3) / (30_000 * Math.exp(0.02))) ** 2 + ofShown,
      charge: 0.03 ** 2 + (1000 / Math.sqrt(6) / (30_000 * Math.exp(-0.01))) ** 2 + ofShown,
    };
    const precision = 1 / 0.01 ** 2 + 1 / variance.dc + 1 / variance.charge;
    const found = carDisplayScale([energy]);
    expect(found?.scale).toBeCloseTo((0.02 / variance.dc - 0.01 / variance.charge) / precision, 10);
    expect(found?.u).toBeCloseTo(1 / Math.sqrt(precision), 10);
    expect(found).toMatchObject({ ratios: 2, isFinding: false });
  });

  it('gains by further runs only what their digits left open', () => {
    const runs = (count: number) =>
      Array.from({ length: count }, () => reconcileEnergy([shown(30), ac(30 * Math.exp(0.02))]));
    const [one, many] = [carDisplayScale(runs(1)), carDisplayScale(runs(60))];
    // method A5.3: u at best (1/0.01² + 1/0.045²)^(−1/2) for AC, whatever the number of runs
    const best = 1 / Math.sqrt(1 / 0.01 ** 2 + 1 / (0.04 / 0.88) ** 2);
    expect(many?.u).toBeLessThan(one?.u ?? 0);
    expect(many?.u).toBeGreaterThan(best);
    expect(many?.u).toBeCloseTo(best, 6);
    expect(many?.ratios).toBe(60);
  });

  it('is a finding where charger and charge agree that the display is far off', () => {
    const energy = reconcileEnergy([shown(30), dc(36), level(36)]);
    expect(carDisplayScale([energy])?.isFinding).toBe(true);
  });

  it('says nothing where there is nothing to compare', () => {
    expect(carDisplayScale([])).toBeNull();
    expect(carDisplayScale([reconcileEnergy([shown(30)]), reconcileEnergy([dc(30), level(30)])])).toBeNull();
  });
});
