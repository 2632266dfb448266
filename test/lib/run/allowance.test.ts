import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ALLOWANCE_WINDOW_S, dailyAllowance, nextSubmissionAt } from '@/lib/run/allowance';

const at = (minutes: number) => new Date(Date.UTC(2026, 4, 1) + 60_000 * minutes);
const sent = (count: number) => Array.from({ length: count }, (_, i) => at(i));

describe('the day’s allowance', () => {
  it('is twelve runs at first, one more for each that was approved, and never more than 200', () => {
    expect([0, 1, 50, 188, 5000].map(dailyAllowance)).toEqual([12, 13, 62, 200, 200]);
  });

  it('lets the next one in when the oldest of those that fill it is a day old', () => {
    expect(nextSubmissionAt(sent(11), 0)).toBeUndefined();
    expect(nextSubmissionAt(sent(12), 0)).toEqual(new Date(at(0).getTime() + 86_400_000));
    expect(nextSubmissionAt(sent(14), 0)).toEqual(new Date(at(2).getTime() + 86_400_000));
    expect(nextSubmissionAt(sent(14), 3)).toBeUndefined();
  });

  it('is kept by whoever waits as told, whatever was approved meanwhile', () => {
    const step = fc.record({ wait: fc.nat(600), approvals: fc.nat(2) });
    fc.assert(
      fc.property(fc.array(step, { maxLength: 80 }), (steps) => {
        const times: number[] = [];
        let [now, approved] = [at(0).getTime(), 0];
        for (const { wait, approvals } of steps) {
          now += 60_000 * wait;
          approved += approvals;
          const within = () => times.filter((time) => time > now - 1000 * ALLOWANCE_WINDOW_S);
          const next = nextSubmissionAt(
            within().map((time) => new Date(time)),
            approved,
          );
          if (next !== undefined) now = Math.max(now, next.getTime());
          times.push(now);
          expect(within().length).toBeLessThanOrEqual(dailyAllowance(approved));
        }
      }),
    );
  });
});
