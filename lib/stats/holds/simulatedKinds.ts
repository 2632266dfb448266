/** What simulated intervals were counted of, in words. */
export const SIMULATED_KINDS = {
  within: 'differences within a model',
  across: 'differences across models',
  means: 'means of setups',
  classFamily: 'all differences of the class at once',
  modelFamilies: 'all differences of a model at once',
  rankSets: 'rank sets',
  pair: 'difference of the pair',
  run: 'single runs',
} as const;

export type SimulatedKind = keyof typeof SIMULATED_KINDS;
