/**
 * Density of moist air.
 *
 * Main formula: CIPM-2007, A. Picard, R. S. Davis, M. Gläser, K. Fujii, Metrologia 45 (2008) 149–155.
 * Beside it: moist air as a mixture of ideal gases with the Magnus vapour pressure of WMO Guide No. 8 (Annex 4.B),
 * which differs from it by less than 0.1 % between −20 °C and 45 °C.
 */
export const DRY_AIR_GAS_CONSTANT = 287.05287; // J/(kg K), ISO 2533
export const WATER_VAPOUR_GAS_CONSTANT = 461.495; // J/(kg K)

const MOLAR_GAS_CONSTANT = 8.314472; // J/(mol K), as used by CIPM-2007
const DRY_AIR_MOLAR_MASS = 28.96546e-3; // kg/mol at x(CO2) = 0.0004
const WATER_MOLAR_MASS = 18.01528e-3; // kg/mol
const ZERO_CELSIUS_K = 273.15;

/** Nothing said about humidity, 0..1: the middle, with a rectangular half-width of 0.4. Own judgement. */
export const ASSUMED_HUMIDITY = { value: 0.6, u: 0.4 / Math.sqrt(3) } as const;

/** Relative standard uncertainty of the CIPM-2007 equation inside 15–27 °C and 600–1100 hPa (Picard et al., table 2). */
export const CIPM_RELATIVE_U = 2.2e-5;
/** Added outside that domain: our own allowance, the spread between the two formulas there. */
export const OUTSIDE_CIPM_RELATIVE_U = 5e-4;

/** Saturation vapour pressure over water in Pa from a temperature in °C: CIPM-2007, appendix A1.1. */
export function saturationPressureCipmPa(temperatureC: number): number {
  const kelvin = temperatureC + ZERO_CELSIUS_K;
  return Math.exp(1.2378847e-5 * kelvin * kelvin - 1.9121316e-2 * kelvin + 33.93711047 - 6343.1645 / kelvin);
}

/** Saturation vapour pressure over water in Pa from a temperature in °C: Magnus form of WMO Guide No. 8, Annex 4.B. */
export function saturationPressureMagnusPa(temperatureC: number): number {
  return 611.2 * Math.exp((17.62 * temperatureC) / (243.12 + temperatureC));
}

/** Relative humidity 0..1 over water from air temperature and dew point in °C (WMO Guide No. 8, Annex 4.B). */
export function relativeHumidityFromDewPoint(temperatureC: number, dewPointC: number): number {
  return saturationPressureMagnusPa(dewPointC) / saturationPressureMagnusPa(temperatureC);
}

/** Dew point in °C from air temperature in °C and relative humidity 0..1 (inverse of the Magnus form). */
export function dewPointFromRelativeHumidity(temperatureC: number, relativeHumidity: number): number {
  const logRatio = Math.log((relativeHumidity * saturationPressureMagnusPa(temperatureC)) / 611.2);
  return (243.12 * logRatio) / (17.62 - logRatio);
}

/**
 * Density of moist air in kg/m³ by CIPM-2007 at x(CO2) = 0.0004, from temperature (°C), station pressure (Pa) and
 * relative humidity (0..1). Stated domain 15–27 °C and 600–1100 hPa; see {@link airDensityRelativeU}.
 */
export function airDensityCipm(temperatureC: number, pressurePa: number, relativeHumidity: number): number {
  const t = temperatureC;
  const kelvin = t + ZERO_CELSIUS_K;
  const enhancement = 1.00062 + 3.14e-8 * pressurePa + 5.6e-7 * t * t;
  const xv = (relativeHumidity * enhancement * saturationPressureCipmPa(t)) / pressurePa;
  const pOverT = pressurePa / kelvin;
  const compressibility =
    1 -
    pOverT *
      (1.58123e-6 -
        2.9331e-8 * t +
        1.1043e-10 * t * t +
        (5.707e-6 - 2.051e-8 * t) * xv +
        (1.9898e-4 - 2.376e-6 * t) * xv * xv) +
    pOverT * pOverT * (1.83e-11 - 0.765e-8 * xv * xv);
  return (
    ((pressurePa * DRY_AIR_MOLAR_MASS) / (compressibility * MOLAR_GAS_CONSTANT * kelvin)) *
    (1 - xv * (1 - WATER_MOLAR_MASS / DRY_AIR_MOLAR_MASS))
  );
}

/** Density of moist air in kg/m³ as a mixture of ideal gases: ρ = (p − e)/(R_d·T) + e/(R_v·T), e by Magnus. */
export function airDensityIdeal(temperatureC: number, pressurePa: number, relativeHumidity: number): number {
  const kelvin = temperatureC + ZERO_CELSIUS_K;
  const vapour = relativeHumidity * saturationPressureMagnusPa(temperatureC);
  return (
    (pressurePa - vapour) / (DRY_AIR_GAS_CONSTANT * kelvin) + vapour / (WATER_VAPOUR_GAS_CONSTANT * kelvin)
  );
}

/** Relative standard uncertainty of the density equation itself at the given air; the inputs' come on top. */
export function airDensityRelativeU(temperatureC: number, pressurePa: number): number {
  const inside = temperatureC >= 15 && temperatureC <= 27 && pressurePa >= 60_000 && pressurePa <= 110_000;
  return inside ? CIPM_RELATIVE_U : Math.hypot(CIPM_RELATIVE_U, OUTSIDE_CIPM_RELATIVE_U);
}
