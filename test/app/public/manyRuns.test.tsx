import { describe, expect, it } from 'vitest';
import { densityFigure } from '@/app/(public)/setups/[slug]/densityFigure';
import { ResidualScreening } from '@/app/(public)/setups/[slug]/ResidualScreening';
import { Figure } from '@/app/ui/figures/Figure';
import type { Screening } from '@/lib/stats/screening';
import { shownScreening } from '@/lib/stats/shownScreening';
import { DEFAULT_PREFERENCES, type Display } from '@/lib/units/display';
import { all, render, textOf } from '../ui/markup';

const perKm: Display = { ...DEFAULT_PREFERENCES, consumption: 'Wh/km' };

describe('what stands for runs too many to draw', () => {
  const page = render(
    <Figure
      figure={densityFigure(
        { slug: 'low', title: 'Low', model: 'Wake', world: 'demo' },
        {
          runs: 1604,
          leastWhPerKm: 150,
          mostWhPerKm: 180,
          quantilesWhPerKm: [152, 160, 165, 170, 178],
          bins: [401, 802, 401],
        },
        {
          classKey: 'kmh-110',
          classLabel: '110 km/h',
          estimateWhPerKm: 165,
          lowWhPerKm: 162,
          highWhPerKm: 168,
          intervalKind: 'model',
          fittedAt: new Date('2026-11-20'),
        },
        perKm,
      )}
    />,
  );

  it('says how many they are and gives the shares as numbers', () => {
    expect(textOf(page)).toContain('how 1604 runs lie around 165.0 Wh/km');
    const rows = all(page, 'tbody').flatMap((body) => all(body, 'tr'));
    expect(rows.map(textOf)).toEqual([
      '5 %152',
      '25 %160',
      'half165',
      '75 %170',
      '95 %178',
      '401 runs150.0 to 160.0',
      '802 runs160.0 to 170.0',
      '401 runs170.0 to 180.0',
    ]);
  });
});

describe('a screening of many runs', () => {
  const verdictOf = (number: number) =>
    number % 10 === 0 ? ('straggler' as const) : ('consistent' as const);
  const screening: Screening = {
    by: 'residuals',
    levels: { stragglerLevel: 0.05, outlierLevel: 0.01 },
    reason: 'unequalCounts',
    runs: Array.from({ length: 400 }, (_, index) => ({
      number: index + 1,
      studentised: (index + 1) / 100,
      p: 0.5,
      pHolm: 1,
      verdict: verdictOf(index + 1),
    })),
  };

  it('keeps all that is flagged, then the latest, in their order', () => {
    const shown = shownScreening(screening, 50, new Set());
    if (shown.by !== 'residuals') throw new TypeError('residuals expected');
    const flagged = Array.from({ length: 40 }, (_, index) => 10 * (index + 1));
    // The ten latest of those not flagged: 399 down to 389 without 390.
    const latest = [389, 391, 392, 393, 394, 395, 396, 397, 398, 399];
    expect(shown.runs.map(({ number }) => number)).toEqual([...flagged, ...latest].sort((a, b) => a - b));
    expect(shown).toMatchObject({ runCount: 400, flaggedCount: 40 });
    const text = textOf(render(<ResidualScreening display={perKm} screening={shown} />));
    expect(text).toContain('40 of the 400 stand out');
    expect(text).toContain('50 of 400 runs, and how they were tested: those that stand out and the latest');
  });

  it('keeps the farthest where even the flagged are too many', () => {
    const shown = shownScreening(screening, 5, new Set());
    if (shown.by !== 'residuals') throw new TypeError('residuals expected');
    expect(shown.runs.map(({ number }) => number)).toEqual([360, 370, 380, 390, 400]);
    expect(shown.flaggedCount).toBe(40);
  });

  it('leaves a short one as it is', () => {
    const short: Screening = { ...screening, runs: screening.runs.slice(0, 5) };
    expect(shownScreening(short, 50, new Set())).toMatchObject({ runs: short.runs, runCount: 5 });
  });
});
