import type { RowContext } from '@/app/(public)/rankings/rankingRows';
import type { RankedSetup } from '@/lib/registry/rankings/rankedSetup';
import { DEFAULT_PREFERENCES } from '@/lib/units/display';

export const setup: RankedSetup = {
  setupId: 'low',
  slug: 'low',
  title: 'Ride height: low',
  model: 'Tarn Works Skerry, 2025',
  modelSlug: 'skerry',
  runs: 4,
  cars: 3,
  testers: 2,
  loops: 1,
  days: 3,
  estimateWhPerKm: 194,
  lowWhPerKm: 190,
  highWhPerKm: 198,
  intervalKind: 'model',
  rawMeanWhPerKm: 201,
  isRanked: true,
  label: '',
  missing: [],
  rankLower: 3,
  rankUpper: 9,
  chanceOfLowest: 0.1,
  held: { restsOn: [], without: null },
  component: 0,
  bodyClass: 'suv',
  baseline: { setupId: 'base', slug: 'base', title: 'As delivered', cars: 3, testers: 2 },
  against: {
    percent: -3.1,
    pointwise: [-4.4, -1.8],
    ofModel: [-4.9, -1.3],
    simultaneous: [-5.4, -0.8],
    word: 'settled',
    restsOnOne: false,
    connection: 'cars that drove both',
    refusal: null,
    isAssumed: false,
    moreSessions: null,
    detectablePercent: 1.8,
  },
};

export const rowContext: RowContext = {
  view: { group: { cruiseClassKey: 'kmh-110', world: 'record' }, rankedOf: 40, plain: null },
  display: DEFAULT_PREFERENCES,
  isOneModel: true,
  hasCounts: true,
};
