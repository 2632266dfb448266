import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { youngClassSpread } from '@/lib/physics/priors';
import { fitGroup } from '@/lib/stats/fitGroup';
import type { FitRow } from '@/lib/stats/fitRow';
import { leaveOneOutResiduals } from '@/lib/stats/studentised';

/** Any small heap of runs: ties, single runs, exact and inexact ones, unconnected cars, wild values. */
const heap: fc.Arbitrary<FitRow[]> = fc.array(
  fc.record({
    setup: fc.constantFrom('a', 'b', 'c', 'd'),
    car: fc.constantFrom('k', 'l', 'm'),
    session: fc.constantFrom('1', '2'),
    z: fc.oneof(fc.constantFrom(5, 5.1), fc.double({ min: 4, max: 6, noNaN: true }), fc.constant(-1e6)),
    u: fc.oneof(fc.constant(0), fc.double({ min: 0, max: 0.05, noNaN: true })),
    loop: fc.constantFrom('coast', 'forest'),
  }),
  { minLength: 0, maxLength: 16 },
);

describe('whatever runs there are', { timeout: 60_000 }, () => {
  it('a fit comes back as finite, consistent, plain data', () => {
    const pooled = { variance: 0.0004, varianceOfVariance: 1e-8, from: 'a class' };
    fc.assert(
      fc.property(heap, fc.boolean(), fc.boolean(), fc.boolean(), (rows, withPool, models, isYoung) => {
        const fit = fitGroup(rows, {
          draws: 50,
          ...(withPool ? { pooledCarLoop: pooled } : {}),
          ...(isYoung ? { priors: youngClassSpread() } : {}),
          ...(models ? { modelOf: (setup: string) => (setup < 'c' ? 'x' : 'y') } : {}),
        });
        expect(fit.nIn).toBe(fit.nUsed + fit.excluded.length);
        expect(fit.estimates.reduce((sum, e) => sum + e.n, 0)).toBe(fit.nUsed);
        // JSON turns NaN and the infinities into null: equality says there are none.
        expect(JSON.parse(JSON.stringify(fit))).toEqual(fit);
        for (const v of Object.values(fit.components)) expect(v).toBeGreaterThanOrEqual(0);
        for (const e of fit.estimates) {
          if (e.interval95 !== null) expect(e.interval95[1]).toBeGreaterThanOrEqual(e.interval95[0]);
          if (e.n === 1 || e.cars === 1) expect(e.interval95).toBeNull();
          if (e.df !== null) expect(e.df).toBeGreaterThanOrEqual(1);
        }
        for (const c of fit.contrasts) {
          if (c.simultaneous !== null && c.interval95 !== null) {
            expect(c.simultaneous[0]).toBeLessThanOrEqual(c.interval95[0] + 1e-9 * Math.abs(c.interval95[0]));
          }
          if (c.kind === 'none') expect(c.word).toBeNull();
          expect(c.word === null).toBe(c.interval95 === null);
          if (c.df !== null) expect(c.df).toBeGreaterThanOrEqual(1);
        }
        const places = fit.ranks.length;
        for (const r of fit.ranks) {
          expect(r.lower).toBeGreaterThanOrEqual(1);
          expect(r.lower).toBeLessThanOrEqual(r.upper);
          expect(r.upper).toBeLessThanOrEqual(places);
        }
      }),
      { seed: 40, numRuns: 150 },
    );
  });

  it('leave-one-out residuals are finite', () => {
    fc.assert(
      fc.property(
        heap.filter((rows) => rows.length > 0),
        (rows) => {
          const found = leaveOneOutResiduals(rows, {
            car: 0.002,
            carLoop: 0,
            session: 0.0005,
            residual: 0.0003,
          });
          for (const r of found) {
            expect(Number.isFinite(r.leaveOneOut) && r.sd > 0 && r.p >= 0 && r.p <= 1).toBe(true);
          }
        },
      ),
      { seed: 41, numRuns: 100 },
    );
  });
});
