/** What the testers set out to compare, class by class: each entry is one session a car. */
export interface Comparison {
  cruiseClassKey: string;
  modelKey: string;
  /** Setups by their name within the model, alternated in the session; the first is the baseline. */
  setups: readonly [string, ...string[]];
  /** Numbers of the model's cars. */
  cars: readonly number[];
  /** Where they drive; one is picked a session. */
  loops: readonly string[];
  /** Fixed order of setups (indices) where the change takes tools, or where only one run was made. */
  order?: readonly number[];
}

const COAST_PLATEAU = ['coast', 'plateau'] as const;
const ALL = ['coast', 'plateau', 'forest'] as const;
/** The buses stay in the forest at 110 km/h and no other model goes there: nothing joins them to the rest. */
const FOREST = ['forest'] as const;

const SWAP_ONCE = [0, 0, 1, 1] as const;

const pair = (
  cruiseClassKey: string,
  modelKey: string,
  setup: string,
  cars: readonly number[],
  loops: readonly string[],
  order?: readonly number[],
): Comparison => ({
  cruiseClassKey,
  modelKey,
  setups: ['baseline', setup],
  cars,
  loops,
  ...(order === undefined ? {} : { order }),
});

export const COMPARISONS: readonly Comparison[] = [
  pair('kmh-110', 'turnstone', 'eco', [1, 2, 3], COAST_PLATEAU),
  pair('kmh-110', 'turnstone', 'low', [1, 2, 3], COAST_PLATEAU),
  pair('kmh-110', 'turnstone', 'open-bed', [1, 2, 3], COAST_PLATEAU, [0, 1, 1, 0]),
  // the fourth pick-up never comes off its all-terrain tyres: no car has driven both kinds
  {
    cruiseClassKey: 'kmh-110',
    modelKey: 'turnstone',
    setups: ['all-terrain'],
    cars: [4, 4],
    loops: COAST_PLATEAU,
    order: [0, 0, 0],
  },
  pair('kmh-110', 'dotterel', 'range', [1, 2, 3, 4], COAST_PLATEAU),
  pair('kmh-110', 'dotterel', 'roof-rack', [1, 2, 4], COAST_PLATEAU, SWAP_ONCE),
  pair('kmh-110', 'dotterel', 'half-load', [2, 4], COAST_PLATEAU, SWAP_ONCE),
  pair('kmh-110', 'dotterel', 'full-pressure', [1], COAST_PLATEAU, [0, 1]),
  pair('kmh-110', 'godwit', 'low', [1, 2, 3, 4], COAST_PLATEAU),
  pair('kmh-110', 'godwit', 'eco', [1, 2, 3, 4], COAST_PLATEAU),
  pair('kmh-110', 'godwit', 'wheels-20', [1, 2, 3], COAST_PLATEAU, SWAP_ONCE),
  pair('kmh-110', 'godwit', 'no-covers', [4], COAST_PLATEAU, [0, 1, 1, 0]),
  pair('kmh-110', 'godwit', 'climate-off', [2], COAST_PLATEAU, [0, 1]),
  pair('kmh-110', 'pipit', 'eco', [1, 2, 3, 4], COAST_PLATEAU),
  pair('kmh-110', 'pipit', 'roof-box', [1, 2, 3], COAST_PLATEAU, SWAP_ONCE),
  pair('kmh-110', 'pipit', 'all-season', [1, 3, 4], COAST_PLATEAU, SWAP_ONCE),
  pair('kmh-110', 'pipit', 'full-pressure', [2, 4], COAST_PLATEAU),
  pair('kmh-110', 'whimbrel', 'eight-aboard', [1, 2], FOREST, SWAP_ONCE),
  pair('kmh-110', 'whimbrel', 'bike-rack', [1, 2], FOREST, [0, 1, 1, 0]),
  pair('kmh-110', 'whimbrel', 'eco', [1], FOREST),

  pair('kmh-90', 'turnstone', 'low', [1, 2], ALL),
  pair('kmh-90', 'turnstone', 'open-bed', [3], ALL),
  pair('kmh-90', 'dotterel', 'roof-rack', [1, 2, 4], ALL, SWAP_ONCE),
  pair('kmh-90', 'dotterel', 'range', [1, 3, 4], ALL),
  pair('kmh-90', 'godwit', 'low', [1, 2, 4], ALL),
  pair('kmh-90', 'godwit', 'eco', [2, 3, 4], ALL),
  pair('kmh-90', 'pipit', 'roof-box', [1, 2, 3], ALL, SWAP_ONCE),
  pair('kmh-90', 'pipit', 'eco', [1, 2, 3, 4], ALL),
  pair('kmh-90', 'whimbrel', 'eight-aboard', [1, 2], ALL, SWAP_ONCE),
  pair('kmh-90', 'whimbrel', 'bike-rack', [1, 2], ALL),
  pair('kmh-90', 'whimbrel', 'eco', [2], ALL),

  pair('kmh-130', 'turnstone', 'low', [1, 2, 3], COAST_PLATEAU),
  pair('kmh-130', 'turnstone', 'open-bed', [2, 3], COAST_PLATEAU),
  pair('kmh-130', 'dotterel', 'range', [2, 4], COAST_PLATEAU),
  pair('kmh-130', 'dotterel', 'roof-rack', [1, 2, 4], COAST_PLATEAU, SWAP_ONCE),
  pair('kmh-130', 'godwit', 'low', [1, 2, 3, 4], COAST_PLATEAU),
  pair('kmh-130', 'godwit', 'wheels-20', [1, 3], COAST_PLATEAU, SWAP_ONCE),
  pair('kmh-130', 'pipit', 'roof-box', [1, 2, 3], COAST_PLATEAU, SWAP_ONCE),
  pair('kmh-130', 'pipit', 'eco', [2, 4], COAST_PLATEAU),

  pair('mph-70', 'turnstone', 'low', [1, 2], COAST_PLATEAU),
  pair('mph-70', 'turnstone', 'eco', [2, 3], COAST_PLATEAU),
  pair('mph-70', 'pipit', 'all-season', [1, 3], COAST_PLATEAU, SWAP_ONCE),
  pair('mph-70', 'pipit', 'eco', [2, 4], COAST_PLATEAU),
];

/** Orders of two setups within a session: mostly there and back again, so that a drift of the day cancels. */
export const ALTERNATIONS: readonly (readonly number[])[] = [
  [0, 1, 1, 0],
  [0, 1, 1, 0],
  [1, 0, 0, 1],
  [0, 1, 0, 1],
  [0, 1, 1, 0, 0],
  [0, 1, 0],
  [1, 0],
];
