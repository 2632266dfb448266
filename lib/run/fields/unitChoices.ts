/** The units in which displays, gauges and reports show a quantity; the first is the form's default. */
export const LENGTH_UNITS = ['km', 'mi'] as const;
export const SPEED_UNITS = ['km/h', 'mph'] as const;
export const WIND_UNITS = ['m/s', 'km/h', 'mph', 'kn'] as const;
export const TYRE_UNITS = ['bar', 'kPa', 'psi'] as const;
export const AIR_UNITS = ['hPa', 'inHg'] as const;
