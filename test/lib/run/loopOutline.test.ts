import { describe, expect, it } from 'vitest';
import { outlineLegs, sectorWidth } from '@/lib/run/loopOutline';
import { windRose } from '@/lib/stats/windRose';

const outAndBack = [0, 10, 20, 30, 20, 10, 0].map((x) => ({ x, y: 0 }));

describe('the outline of a loop', () => {
  it('is cut where the outbound leg ends, and both legs hold that place', () => {
    const legs = outlineLegs(outAndBack, 0.5);
    expect(legs.map((leg) => leg.key)).toEqual(['outbound', 'return']);
    expect(legs[0]?.points.at(-1)).toEqual({ x: 30, y: 0 });
    expect(legs[1]?.points[0]).toEqual({ x: 30, y: 0 });
    expect((legs[0]?.points.length ?? 0) + (legs[1]?.points.length ?? 0)).toBe(outAndBack.length + 1);
  });

  it('is one line where it does not come back', () => {
    expect(outlineLegs(outAndBack.slice(0, 4), 0.5).map((leg) => leg.key)).toEqual(['route']);
  });

  it('is nothing without two places', () => {
    expect(outlineLegs([], 0.5)).toEqual([]);
    expect(outlineLegs([{ x: 1, y: 1 }], 0.5)).toEqual([]);
  });

  it('has petals as wide as its closest bearings, over north too, and never wider than 30°', () => {
    expect(sectorWidth([{ bearingDeg: 355 }, { bearingDeg: 5 }, { bearingDeg: 180 }])).toBe(10);
    expect(sectorWidth([{ bearingDeg: 20 }, { bearingDeg: 200 }])).toBe(30);
    expect(sectorWidth([{ bearingDeg: 20 }])).toBe(30);
  });
});

describe('the wind rose', () => {
  it('counts each run with a direction once and says how many had none', () => {
    const rose = windRose([
      { sector: 0, runs: 2, speedSum: 6 },
      { sector: 3, runs: 1, speedSum: 3 },
      { sector: null, runs: 2, speedSum: 3 },
    ]);
    expect(rose.runs).toBe(3);
    expect(rose.without).toBe(2);
    expect(rose.sectors[0]).toMatchObject({ bearingDeg: 0, runs: 2, meanSpeedMps: 3 });
    expect(rose.sectors[3]).toMatchObject({ bearingDeg: 90, runs: 1 });
    expect(rose.sectors.reduce((sum, sector) => sum + sector.share, 0)).toBeCloseTo(1, 12);
  });
});
