import type { PartKey } from '@/lib/answers/estimateParts';
import { drawnSentence, rangeSentence } from '@/lib/answers/estimateSentence';
import type { CurveBasis } from '@/lib/physics/estimate/chargingCurve';
import type { StepName } from '@/lib/physics/normalise';
import type { NoNumber } from '@/lib/registry/estimates/estimatedClasses';
import type { SetupEstimate } from '@/lib/registry/estimates/setupEstimate';
import { ESTIMATE_CLIMATES, WAYS, WIND_FROM } from '@/lib/run/estimate/estimateFields';
import type { EstimateAsked } from '@/lib/run/estimate/parseEstimate';
import type { Display } from '@/lib/units/display';
import { showShare, showStated } from '@/lib/units/show';

/** What an estimate may be off by, part by part. */
export const PART_WORDS: Record<PartKey, string> = {
  runs: 'How well the runs of this setup settle it',
  cars: 'Cars of one model differ',
  roads: 'A car differs from road to road',
  days: 'Days differ',
  trips: 'One trip differs from the next',
  air: 'Drag of the car',
  rolling: 'Rolling resistance of the tyres',
  weight: 'Weight of the car',
  drivetrain: 'Losses between battery and wheels',
  wind: 'Wind at the road',
  weather: 'Density of the air',
  cabin: 'Cabin, lights and electronics',
  display: 'Displays behind the runs read high or low',
  coldBattery: 'What a cold battery loses besides',
  road: 'Road surface and warm tyres',
  capacity: 'Energy of the battery',
};

/** From reference conditions to those asked, step by step. */
export const STEP_WORDS: Record<StepName, string> = {
  auxiliary: 'Cabin and electronics',
  elevation: 'Climb',
  stops: 'Stops',
  wind: 'Wind',
  density: 'Density of the air',
  rollingTemperature: 'Tyres at this temperature',
  speed: 'Speed other than the class’s',
};

export const NO_NUMBER_WORDS: Record<NoNumber, { title: string; why: string }> = {
  notDriven: {
    title: 'This setup has no number yet.',
    why: 'No run of it has been approved and worked out, so there is nothing that an estimate could start from.',
  },
  noInterval: {
    title: 'Too little has been driven to say what another car would do.',
    why: 'How cars of this model differ is not known from one car or a few runs, and a number without that would claim too much.',
  },
  unreadable: {
    title: 'This cannot be worked out just now.',
    why: 'What was kept of the class can no longer be read. The next calculation, due within a day, replaces it.',
  },
};

export const CURVE_WORDS: Record<CurveBasis, string> = {
  stated: 'The charging curve is the one that the model’s data sheet states.',
  statedPeak:
    'The greatest charging power is stated on the model’s data sheet; how it falls as the battery fills is assumed.',
  assumed:
    'Nobody has stated how this model charges: the charging curve is assumed from the size of the battery, as cars usually charge.',
};

/** The trip, in a line. */
export function askedWords(asked: EstimateAsked, speedMps: number, display: Display): string {
  return [
    showStated(speedMps, 'speed', display),
    showStated(asked.air, 'temperature', display),
    showStated(asked.trip, 'distance', display),
    `${showShare(asked.start, display, { decimals: 0, bare: true })} to ${showShare(asked.arrive, display, { decimals: 0 })}`,
  ].join(', ');
}

/** What is asked beside speed, temperature and charge, where it is not as at reference conditions. */
export function besideWords(asked: EstimateAsked, display: Display): string[] {
  const said = (of: readonly { value: string; label: string }[], value: string) =>
    of.find((one) => one.value === value)?.label.toLowerCase() ?? value;
  const { windSpeed, climb, trip, load, climate, altitude, pressure, cabin, battery } = asked;
  return [
    windSpeed === 0
      ? ''
      : `wind of ${showStated(windSpeed, 'wind', display)} ${said(WIND_FROM, asked.windFrom)}`,
    climb === 0
      ? ''
      : `${showStated(Math.abs(climb), 'height', display)} ${climb > 0 ? 'up' : 'down'} over ${showStated(trip, 'distance', display)}`,
    load === undefined ? '' : `${showStated(load, 'mass', display)} aboard`,
    climate === 'reference' || cabin !== undefined
      ? ''
      : `cabin climate: ${said(ESTIMATE_CLIMATES, climate)}`,
    cabin === undefined ? '' : `${showStated(cabin, 'W', display)} for cabin and electronics`,
    altitude === undefined ? '' : `at an altitude of ${showStated(altitude, 'height', display)}`,
    pressure === undefined ? '' : `air at ${showStated(pressure, 'airPressure', display)}`,
    battery === undefined ? '' : `battery at ${showStated(battery, 'temperature', display)}`,
    asked.way === 'one' ? '' : said(WAYS, asked.way),
  ].filter((words) => words !== '');
}

/** Outside these, °C, a cabin is seldom left as it is; common practice, no source. */
const COMFORTABLE_C = [10, 28] as const;

/** The cabin climate that most would have on in this air, where nobody said what theirs is. */
export function climateLikely({ air, climate, cabin }: EstimateAsked): 'heating' | 'cooling' | undefined {
  if (climate !== 'reference' || cabin !== undefined) return undefined;
  const [cold, hot] = COMFORTABLE_C;
  return air < cold ? 'heating' : air > hot ? 'cooling' : undefined;
}

/** The one sentence of a setup: how far it goes, or what it draws where nobody knows the battery. */
export function answerWords(
  { title: setup, rangeM, whPerKm }: SetupEstimate,
  { asked: { air: airC, start: from, arrive: to }, speedMps }: { asked: EstimateAsked; speedMps: number },
  display: Display,
): string {
  return rangeM === null
    ? drawnSentence({ setup, whPerKm, speedMps, airC }, display)
    : rangeSentence({ setup, rangeM, from, to, speedMps, airC }, display);
}
