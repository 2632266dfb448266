import { describe, expect, it } from 'vitest';
import { chargingFigure } from '@/app/(public)/models/[slug]/chargingFigure';
import { chargingSpan, powerMet95 } from '@/lib/physics/estimate/chargingSpan';
import { assumedCurve, statedCurve } from '@/lib/physics/estimate/taper';
import type { ChargingView } from '@/lib/registry/models/charging';
import { DEFAULT_PREFERENCES } from '@/lib/units/display';

const curves = {
  stated: statedCurve([
    { charge: 0.1, powerW: 120_000 },
    { charge: 0.8, powerW: 60_000 },
  ]),
  assumed: assumedCurve(70_000),
};

describe.each(Object.entries(curves))('the figure of a curve that is %s', (_, curve) => {
  const view = {
    slug: 'wake',
    name: 'Tarn Works Skerry 2025',
    world: 'demo',
    usableCapacityWh: 70_000,
    sheet: null,
    earlier: [],
    curve,
    span: chargingSpan(curve, { basis: 'new', capacityWh: 70_000 }, 0.1, 0.8),
    asOf: new Date('2026-06-01'),
    mayState: false,
    modelId: 'm',
  } satisfies ChargingView;
  const figure = chargingFigure(view, DEFAULT_PREFERENCES);

  it('draws what the battery takes in 95 of 100 cases about the whole line, inside the picture', () => {
    if (figure?.drawing.kind !== 'scatter') throw new Error('nothing drawn');
    const { line = [], band = [], yDomain } = figure.drawing;
    const [least, most] = powerMet95(curve);
    expect(band.map(({ x }) => x)).toEqual(line.map(({ x }) => x));
    band.forEach(({ low, high }, i) => {
      expect(low / (line[i]?.y ?? 0)).toBeCloseTo(least, 9);
      expect(high / (line[i]?.y ?? 0)).toBeCloseTo(most, 9);
      expect(high).toBeLessThan(yDomain?.[1] ?? 0);
    });
    expect(figure.table.rows.every((row) => / to /.test(String(row[2])))).toBe(true);
  });
});
