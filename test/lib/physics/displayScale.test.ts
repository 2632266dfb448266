import { describe, expect, it } from 'vitest';
import { displayScale } from '@/lib/physics/displayScale';

const dc = (logRatios: number[], uRun = 0.002) => ({ label: 'DC', logRatios, uConversion: 0.033, uRun });
const ac = (logRatios: number[], uRun = 0.002) => ({ label: 'AC', logRatios, uConversion: 0.045, uRun });

describe('the scale of an energy display from charger and charge readings', () => {
  it('stays at 0.93 % at best, however often the car is charged (method A5.3)', () => {
    const endless = displayScale([dc(Array(10_000).fill(0.01)), ac(Array(10_000).fill(0.01))]);
    expect(endless?.u).toBeGreaterThan(0.0092);
    expect(endless?.u).toBeLessThan(0.0094);
    // 0.01 seen by both: pulled to the prior by the precisions, checked by hand
    const [wd, wa] = [1 / 0.033 ** 2, 1 / 0.045 ** 2];
    expect(endless?.scale).toBeCloseTo((0.01 * (wd + wa)) / (1e4 + wd + wa), 6);
  });

  it('says nothing without a reading and never more than the prior knows', () => {
    expect(displayScale([dc([])])).toBeNull();
    const once = displayScale([dc([0.02], 0.05)]);
    expect(once?.u).toBeLessThan(0.01);
    expect(once?.u).toBeGreaterThan(0.0098);
    expect(Math.abs(once?.scale ?? 1)).toBeLessThan(0.02);
  });

  it('is a finding only beyond what prior and conversion let expect', () => {
    const limit = 2.576 * Math.hypot(0.01, 0.033);
    expect(displayScale([dc([0.98 * limit], 0)])?.isFinding).toBe(false);
    expect(displayScale([dc([-1.02 * limit], 0)])?.isFinding).toBe(true);
  });
});
