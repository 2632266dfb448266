import { describe, expect, it } from 'vitest';
import { tUpperQuantile } from '@/lib/numerics/distributions';
import { createRandom, drawNormal } from '@/lib/numerics/random';
import { fitGroup } from '@/lib/stats/fitGroup';
import { readerVariance } from '@/lib/stats/readerEstimate';
import { answer, DIRECT, GAIN, one, SD, world } from '../../lib/stats/readerWorld';

describe('intervals of answers, over worlds that draw everything', { timeout: 60_000 }, () => {
  it('hold a further car’s trip, and what the other setup would save on it, at the stated rate', () => {
    const worlds = 150;
    let [trips, savings] = [0, 0];
    for (let seed = 1; seed <= worlds; seed++) {
      const { rows, drag, method } = world(1000 + seed);
      const fitted = fitGroup(rows, { draws: 50 });
      const random = createRandom(90_000 + seed);
      const deviation = Math.hypot(SD.car, SD.session, SD.run) * drawNormal(random);
      const habit = DIRECT.habit * drawNormal(random);
      // the computed answer errs by what it does with each shared error beyond what stands in the estimate
      const truth = (setup: number) =>
        GAIN * (5 - 0.03 * setup + deviation) - DIRECT.drag * drag - DIRECT.method * method + habit;
      const computed = (setup: number) => GAIN * (fitted.estimates[setup]?.beta as number);
      const holds = (error: number, { u, df }: { u: number; df: number }) =>
        Math.abs(error) <= tUpperQuantile(0.025, df) * u;
      if (holds(computed(0) - truth(0), readerVariance(fitted, one(0), true))) trips += 1;
      const pair = [...one(0), { weight: -1, answer: answer(1) }];
      const saved = computed(0) - computed(1) - (truth(0) - truth(1));
      if (holds(saved, readerVariance(fitted, pair, true))) savings += 1;
    }
    // three standard errors of a share of 0.95 over 150 worlds are 5.3 %
    expect(Math.abs(trips / worlds - 0.95)).toBeLessThan(0.053);
    expect(Math.abs(savings / worlds - 0.95)).toBeLessThan(0.053);
  });
});
