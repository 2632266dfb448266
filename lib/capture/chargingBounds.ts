/** Our own wide fences against a wrong unit or a slipped digit, as the database holds them too. */
export const CHARGING_POWER_W = [100, 2_000_000] as const;
export const CAPACITY_WH = [1000, 1_000_000] as const;
/** Standard uncertainty of a capacity that was measured on a car. */
export const CAPACITY_U_WH = [10, 50_000] as const;
/** Of a charging curve. */
export const MOST_POINTS = 60;
