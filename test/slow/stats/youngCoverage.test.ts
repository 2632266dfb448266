import { describe, expect, it } from 'vitest';
import { YOUNG_TARGET } from '../../bench/coverageCount';
import { measureYoung, YOUNG_LAYOUTS } from '../../bench/youngCoverage';
import { SURELY } from './expectWanted';

describe('coverage', { timeout: 600_000 }, () => {
  it.each(YOUNG_LAYOUTS)('is kept by the first runs of a class: $name', (layout) => {
    // `npm run bench -- coverage` takes four times as many.
    const registries = 1000;
    const { share } = measureYoung(layout, registries, 31);
    const reach = SURELY * Math.sqrt((0.05 * 0.95) / registries);
    expect(share).toBeGreaterThan(YOUNG_TARGET[0] - reach);
    expect(share).toBeLessThan(YOUNG_TARGET[1] + reach);
  });
});
