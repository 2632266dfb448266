import { DRY_AIR_GAS_CONSTANT } from './air';

/**
 * Pressure at the road from what a report gives: station pressure, altimeter setting (QNH), sea-level pressure (QFF),
 * or nothing but the altitude. QNH and QFF of one place differ by 1 % at 1600 m and −10 °C, so the kind is asked for.
 */
export const STANDARD_GRAVITY = 9.80665; // m/s², exact (CGPM 1901)
export const STANDARD_PRESSURE_PA = 101_325; // ISO 2533
const STANDARD_TEMPERATURE_K = 288.15; // ISO 2533, sea level
const LAPSE_RATE_K_PER_M = 0.0065; // ISO 2533, troposphere
const EXPONENT = 0.1902631; // R·L/g of the standard atmosphere (ICAO Doc 7488)

/** Standard uncertainty in Pa of a pressure guessed from the altitude alone: day-to-day weather at mid latitudes. */
export const ALTITUDE_ONLY_U_PA = 1000;
/** Half a step of a report that rounds to whole hectopascals. */
const REPORT_HALF_STEP_PA = 50;

/** ISO 2533 standard atmosphere, troposphere (−2…11 km of geopotential altitude). */
export function standardAtmosphere(altitudeM: number): {
  temperatureC: number;
  pressurePa: number;
  densityKgM3: number;
} {
  const kelvin = STANDARD_TEMPERATURE_K - LAPSE_RATE_K_PER_M * altitudeM;
  const pressurePa =
    STANDARD_PRESSURE_PA *
    (kelvin / STANDARD_TEMPERATURE_K) ** (STANDARD_GRAVITY / (DRY_AIR_GAS_CONSTANT * LAPSE_RATE_K_PER_M));
  return {
    temperatureC: kelvin - 273.15,
    pressurePa,
    densityKgM3: pressurePa / (DRY_AIR_GAS_CONSTANT * kelvin),
  };
}

/**
 * Station pressure in Pa from an altimeter setting in Pa and the altitude in m:
 * p = (Q^n − 101325^n · 0.0065/288.15 · h)^(1/n), n = 0.1902631 (WMO Guide No. 8, 3.11; ICAO Doc 7488).
 */
export function stationPressureFromQnh(qnhPa: number, altitudeM: number): number {
  const reduced =
    qnhPa ** EXPONENT -
    (STANDARD_PRESSURE_PA ** EXPONENT * LAPSE_RATE_K_PER_M * altitudeM) / STANDARD_TEMPERATURE_K;
  return reduced ** (1 / EXPONENT);
}

/**
 * Station pressure in Pa from a pressure reduced to sea level with the actual temperature (QFF):
 * p = p0·exp(−g·h/(R_d·T_m)), T_m the mean of the station's temperature and the one 0.0065 K/m warmer at sea level.
 */
export function stationPressureFromQff(qffPa: number, altitudeM: number, temperatureC: number): number {
  const meanKelvin = temperatureC + 273.15 + (LAPSE_RATE_K_PER_M * altitudeM) / 2;
  return qffPa * Math.exp((-STANDARD_GRAVITY * altitudeM) / (DRY_AIR_GAS_CONSTANT * meanKelvin));
}

export type PressureReport =
  | { readonly kind: 'station'; readonly pressurePa: number }
  | { readonly kind: 'qnh'; readonly pressurePa: number; readonly altitudeM: number }
  | {
      readonly kind: 'qff';
      readonly pressurePa: number;
      readonly altitudeM: number;
      readonly temperatureC: number;
    }
  | { readonly kind: 'altitude'; readonly altitudeM: number };

/** Station pressure with its standard uncertainty, both in Pa. */
export function stationPressure(report: PressureReport): { pressurePa: number; uPa: number } {
  const rounding = REPORT_HALF_STEP_PA / Math.sqrt(3);
  switch (report.kind) {
    case 'station':
      return { pressurePa: report.pressurePa, uPa: rounding };
    case 'qnh': {
      // the altitude of the report against the road's: 10 m is about 120 Pa
      const pressurePa = stationPressureFromQnh(report.pressurePa, report.altitudeM);
      return { pressurePa, uPa: Math.hypot(rounding, 120 / Math.sqrt(3)) };
    }
    case 'qff': {
      // a mean temperature of the fictitious column is known to about 3 K (half-width 5 K)
      const { pressurePa: qff, altitudeM, temperatureC } = report;
      const pressurePa = stationPressureFromQff(qff, altitudeM, temperatureC);
      const spread =
        (stationPressureFromQff(qff, altitudeM, temperatureC + 5) -
          stationPressureFromQff(qff, altitudeM, temperatureC - 5)) /
        2;
      return { pressurePa, uPa: Math.hypot(rounding, 120 / Math.sqrt(3), spread / Math.sqrt(3)) };
    }
    case 'altitude':
      return { pressurePa: standardAtmosphere(report.altitudeM).pressurePa, uPa: ALTITUDE_ONLY_U_PA };
  }
}
