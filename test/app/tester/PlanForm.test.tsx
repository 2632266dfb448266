import { renderToStaticMarkup } from 'react-dom/server';
import { describe, expect, it, vi } from 'vitest';
import { PlanForm } from '@/app/(tester)/studies/PlanForm';
import type { PlanFormView } from '@/lib/registry/studies/planForm';
import { PLAN_DEFAULTS } from '@/lib/study/planForm';
import { DEFAULT_PREFERENCES } from '@/lib/units/display';

vi.mock('@/app/(tester)/studies/actions', () => ({ keepPlan: async () => undefined }));

const view = (baselineId: string): PlanFormView => ({
  basis: {
    runVariance: 1e-4,
    isAssumed: true,
    loopLengthM: 50_000,
    speedMps: 30,
    battery: null,
    curve: null,
    consumptions: {},
    setups: [
      { id: 'delivered', title: 'As delivered', levels: [] },
      { id: 'low', title: 'Ride height: low', levels: [] },
    ],
  },
  model: 'Korvane Tidewind 2025',
  loop: 'Skerry coast',
  cruiseClass: { key: 'kmh-110', label: '110 km/h' },
  world: 'record',
  form: { ...PLAN_DEFAULTS, baselineId },
  seed: 1,
  request: undefined,
  study: undefined,
});

describe('the form of a plan', () => {
  it('offers every setup as the baseline, and none against itself', () => {
    const boxes = (baselineId: string) =>
      [
        ...renderToStaticMarkup(<PlanForm view={view(baselineId)} display={DEFAULT_PREFERENCES} />).matchAll(
          /name="setup\.([^"]+)"/g,
        ),
      ].map(([, id]) => id);
    expect(boxes('delivered')).toEqual(['low']);
    expect(boxes('low')).toEqual(['delivered']);
    expect(boxes('')).toEqual(['delivered', 'low']);
  });
});
