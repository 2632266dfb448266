/** What is done to many runs at once. */
export const MANY_ACTS = ['hold', 'lift', 'retract'] as const;
export type ManyAct = (typeof MANY_ACTS)[number];
