import { altimeterSettingPa, moistAirDensityKgM3, saturationPressurePa } from './forwardModel';
import type { PriorDraws } from './priorDraws';
import { RandomStream } from './randomStream';
import type { DemoLoop, TrueConditions, WindErrors } from './types';

const DAY_MS = 86_400_000;

interface DayWeather {
  isDry: boolean;
  /** At the loop, around midday. */
  temperatureC: number;
  dewPointDropC: number;
  seaLevelPa: number;
  windMps: number;
  windFromDeg: number;
}

/** The weather of one loop on one date (UTC midnight, ms): a mild sea climate, colder by 6.5 K per km of height. */
function dayWeather(seed: number, loop: DemoLoop, dateMs: number): DayWeather {
  // pressure and wind belong to the whole archipelago, the rest to the loop
  const region = new RandomStream(seed, `region ${dateMs}`);
  const local = new RandomStream(seed, `weather ${loop.key} ${dateMs}`);
  const dayOfYear = ((dateMs / DAY_MS) % 365.25) / 365.25;
  const season = -Math.cos(2 * Math.PI * (dayOfYear - 0.06));
  const seaLevelTemperatureC = 14.5 + 7.5 * season + region.normal(0, 2.4);
  const shelterShare = loop.key === 'forest' ? 0.75 : 1;
  return {
    isDry: region.chance(0.72),
    temperatureC: seaLevelTemperatureC - (6.5 * loop.altitudeM) / 1000 + local.normal(0, 0.8),
    dewPointDropC: local.uniform(1.5, 11),
    seaLevelPa: region.normalWithin(101_600, 800, 2000),
    windMps: shelterShare * Math.hypot(region.normal(0, 2.6), region.normal(0, 2.6)),
    windFromDeg: (region.normal(240, 70) + 720) % 360,
  };
}

/** Would a sensible tester drive a session on that day? */
export function isFitForSession(seed: number, loop: DemoLoop, dateMs: number): boolean {
  const day = dayWeather(seed, loop, dateMs);
  return day.isDry && day.windMps < 6.2 && day.temperatureC > -4;
}

/** True conditions over a run that starts at `hour` (local) of the date. */
export function conditionsAt(
  seed: number,
  loop: DemoLoop,
  dateMs: number,
  hour: number,
  of: { runKey: string; sessionKey: string },
  draws: PriorDraws,
): TrueConditions {
  const day = dayWeather(seed, loop, dateMs);
  const stream = new RandomStream(seed, `air ${of.runKey}`);
  const temperatureC =
    day.temperatureC + 2.8 * Math.sin(((hour - 9.5) / 24) * 2 * Math.PI) + stream.normal(0, 0.25);
  const dewPointC = day.temperatureC - day.dewPointDropC;
  const relativeHumidity = Math.min(
    0.98,
    saturationPressurePa(dewPointC) / saturationPressurePa(temperatureC),
  );
  const pressurePa =
    day.seaLevelPa * (1 - (0.0065 * loop.altitudeM) / 288.15) ** 5.2559 + stream.normal(0, 30);
  const wind10mMps = Math.max(0, day.windMps * stream.normalWithin(1, 0.12, 0.3));
  return {
    temperatureC,
    pressurePa,
    relativeHumidity,
    airDensityKgM3: moistAirDensityKgM3(temperatureC, pressurePa, relativeHumidity),
    wind10mMps,
    windFromDeg: (day.windFromDeg + stream.normal(0, 8) + 360) % 360,
    gustMps: wind10mMps > 5 ? wind10mMps * stream.uniform(1.35, 1.6) : undefined,
    wind: windErrors(draws, of.sessionKey),
  };
}

/** The day's departures of the wind at the road from the station's (method A4). */
function windErrors(draws: PriorDraws, sessionKey: string): WindErrors {
  const normal = (what: string) => draws.normal('session', `wind ${what} ${sessionKey}`);
  return {
    carHeightShare: 0.66 + (0.1 / Math.sqrt(3)) * draws.rectangular('session', `wind height ${sessionKey}`),
    alongShare: 0.3 * normal('shelter along'),
    acrossShare: 0.3 * normal('shelter across'),
    alongMps: STATION_WIND_U_MPS * normal('station along'),
    acrossMps: STATION_WIND_U_MPS * normal('station across'),
    directionDeg: 15 * normal('direction'),
  };
}

/** Of a wind reported from some kilometres off, or by a pocket instrument. */
const STATION_WIND_U_MPS = 0.5;
/** Of the air's temperature, by its source: what the registry takes each for. */
const TEMPERATURE_U_C = { stationReport: 0.45, ownInstrument: 0.7, forecast: 2.02 } as const;

export type WeatherSource = 'stationReport' | 'ownInstrument' | 'forecast';

/**
 * What a source says of those conditions, as form fields: a station rounds to whole degrees and knots and gives the
 * altimeter setting; a pocket instrument shows tenths and the pressure at the place; a forecast knows no pressure.
 */
export function reportConditions(
  seed: number,
  source: WeatherSource,
  loop: DemoLoop,
  truth: TrueConditions,
  sessionKey: string,
  startedAtMs: number,
  draws: PriorDraws,
): Record<string, string> {
  const session = new RandomStream(seed, `report ${sessionKey}`);
  const offsetC = TEMPERATURE_U_C[source] * draws.normal('session', `temperature ${sessionKey}`);
  const airC = truth.temperatureC + offsetC;
  const windMps = truth.wind10mMps;
  const windFrom = Math.round(truth.windFromDeg / 10) * 10 || 360;
  if (source === 'ownInstrument') {
    return {
      conditionsSource: 'ownInstrument',
      airTemperature: airC.toFixed(1),
      relativeHumidity: (100 * truth.relativeHumidity).toFixed(0),
      pressureKind: 'station',
      airPressure: (truth.pressurePa / 100).toFixed(1),
      windSpeed: windMps.toFixed(1),
      windFrom: String(windFrom),
    };
  }
  if (source === 'forecast') {
    return {
      conditionsSource: 'forecast',
      airTemperature: airC.toFixed(0),
      relativeHumidity: (100 * truth.relativeHumidity).toFixed(0),
      pressureKind: 'altitudeOnly',
      windSpeed: (3.6 * windMps).toFixed(0),
      windSpeedUnit: 'km/h',
      windFrom: String(windFrom),
      stationDistance: session.uniform(8, 30).toFixed(0),
    };
  }
  const celsius = Math.round(airC);
  const dewPoint = Math.min(celsius, Math.round(dewPointC(truth)));
  const hectopascal = Math.round(altimeterSettingPa(truth.pressurePa, loop.altitudeM) / 100);
  const knots = Math.round((windMps * 3600) / 1852);
  const gustKnots =
    truth.gustMps === undefined ? undefined : Math.max(knots + 5, Math.round((truth.gustMps * 3600) / 1852));
  return {
    conditionsSource: 'stationReport',
    airTemperature: String(celsius),
    dewPoint: String(dewPoint),
    pressureKind: 'qnh',
    airPressure: String(hectopascal),
    windSpeed: String(knots),
    windSpeedUnit: 'kn',
    windFrom: String(windFrom),
    ...(gustKnots === undefined ? {} : { windGust: String(gustKnots), windGustUnit: 'kn' }),
    stationDistance: session.uniform(2, 18).toFixed(0),
    stationReport: stationReport(loop, startedAtMs, {
      windFrom,
      knots,
      gustKnots,
      celsius,
      dewPoint,
      hectopascal,
    }),
  };
}

function dewPointC(truth: TrueConditions): number {
  const logRatio = Math.log((truth.relativeHumidity * saturationPressurePa(truth.temperatureC)) / 611.2);
  return (243.12 * logRatio) / (17.62 - logRatio);
}

interface Reported {
  windFrom: number;
  knots: number;
  gustKnots: number | undefined;
  celsius: number;
  dewPoint: number;
  hectopascal: number;
}

/** Stations of the invented republic; their letters lie in a block that no region of the world uses. */
const STATIONS: Readonly<Record<string, string>> = { coast: 'QQAC', plateau: 'QQNM', forest: 'QQSO' };

/** A routine report in the form of WMO FM 15. */
function stationReport(loop: DemoLoop, startedAtMs: number, reported: Reported): string {
  const two = (value: number): string => String(value).padStart(2, '0');
  const signed = (value: number): string => (value < 0 ? `M${two(-value)}` : two(value));
  const at = new Date(startedAtMs);
  const wind =
    reported.knots === 0
      ? '00000KT'
      : `${String(reported.windFrom).padStart(3, '0')}${two(reported.knots)}${
          reported.gustKnots === undefined ? '' : `G${two(reported.gustKnots)}`
        }KT`;
  return [
    'METAR',
    STATIONS[loop.key] ?? 'QQAV',
    `${two(at.getUTCDate())}${two(at.getUTCHours())}${two(at.getUTCMinutes() < 30 ? 20 : 50)}Z`,
    wind,
    '9999 FEW035',
    `${signed(reported.celsius)}/${signed(reported.dewPoint)}`,
    `Q${String(reported.hectopascal).padStart(4, '0')}`,
  ].join(' ');
}
