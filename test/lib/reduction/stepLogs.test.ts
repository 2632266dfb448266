import { describe, expect, it } from 'vitest';
import { readStepLogs } from '@/lib/reduction/stepLogs';

const step = (name: string, factor: number) => ({ name, factor, deltaWhPerKm: 0, uWhPerKm: 0 });

describe('what a step brought into a result', () => {
  it('is the logarithm of its factor; air is density and tyres’ temperature together', () => {
    const steps = [
      step('wind', 0.96),
      step('density', 1.02),
      step('rollingTemperature', 1.01),
      step('speed', 1),
    ];
    expect(readStepLogs(steps)?.windLog).toBeCloseTo(Math.log(0.96), 12);
    expect(readStepLogs(steps)?.airLog).toBeCloseTo(Math.log(1.02 * 1.01), 12);
  });

  it('is not known where a step is missing or cannot be read', () => {
    expect(readStepLogs([step('wind', 0.96), step('density', 1.02)])).toBeNull();
    for (const odd of [null, undefined, 'x', {}, [{ name: 'wind' }], [step('wind', -1)]]) {
      expect(readStepLogs(odd)).toBeNull();
    }
  });
});
