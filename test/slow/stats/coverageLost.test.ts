import { describe, expect, it } from 'vitest';
import { generateDemoWorld } from '@/prisma/demo/world/generateDemoWorld';
import { TARGETS } from '../../bench/coverageCount';
import { DEMO_SEED, measureRedrawn } from '../../bench/demoCoverage';
import { SURELY } from './expectWanted';

describe('coverage', { timeout: 600_000 }, () => {
  it('is lost by setups’ means where the truth is twice as far off as stated', () => {
    const how = { stretch: 2, only: 'kmh-110' };
    const classes = measureRedrawn(generateDemoWorld({ seed: DEMO_SEED }), 100, 8, how);
    const means = classes.get('kmh-110')?.means;
    expect((means?.share ?? 1) + SURELY * (means?.standardError ?? 1)).toBeLessThan(TARGETS.means[0]);
  });
});
