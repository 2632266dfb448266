import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { FREE_TRIES, LONGEST_WAIT_S, waitAfterS, waitsS } from '@/lib/access/delays';

describe('the wait after tries in a row', () => {
  it('doubles from one second to four minutes', () => {
    const waits = Array.from({ length: 14 }, (_, i) => waitAfterS(i + 1, 3));
    expect(waits).toEqual([0, 0, 0, 1, 2, 4, 8, 16, 32, 64, 128, 240, 240, 240]);
  });

  it('never shrinks, never passes the longest and is nothing while tries are free', () => {
    fc.assert(
      fc.property(fc.nat({ max: 5000 }), fc.nat({ max: 50 }), (tries, free) => {
        const waitS = waitAfterS(tries, free);
        expect(waitS === 0).toBe(tries <= free);
        expect(waitS).toBeLessThanOrEqual(LONGEST_WAIT_S);
        expect(waitAfterS(tries + 1, free)).toBeGreaterThanOrEqual(waitS);
      }),
    );
  });

  it.each(Object.keys(FREE_TRIES) as (keyof typeof FREE_TRIES)[])('is listed to its end for %s', (thing) => {
    const waits = waitsS(thing);
    expect(waits).toEqual(waits.map((_, i) => waitAfterS(i + 1, FREE_TRIES[thing])));
    expect([waits.at(-2) === LONGEST_WAIT_S, waits.at(-1)]).toEqual([false, LONGEST_WAIT_S]);
  });
});
