/** Models that a page draws of one effect; all of them pool. */
export const MOST_MODELS = 40;
