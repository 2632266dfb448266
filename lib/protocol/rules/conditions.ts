import { z } from 'zod';
import { said } from '@/lib/units/said';
import { isAtMost } from '../grading';
import { oneSidedRule, rangeRule } from '../limitRule';
import { asksFor, notNoted } from '../missing';
import { ascending, limit, temperature, verdict } from '../parameterKinds';
import { defineRule } from '../rule';
import { stateRule } from '../stateRule';
import { limitNumber, numberBeside, scaleOf, spoken, writeLimit } from '../wording';

const metresPerSecond = scaleOf('m/s');

const airTemperature = rangeRule({
  id: 'air-temperature',
  field: 'airTemperature',
  schema: {
    airTemperature: ascending(
      {
        cautionFromC: temperature('Air temperature, caution from'),
        passFromC: temperature('Air temperature, pass from'),
        passToC: temperature('Air temperature, pass up to'),
        cautionToC: temperature('Air temperature, caution up to'),
      },
      ['cautionFromC', 'passFromC', 'passToC', 'cautionToC'],
    ),
    ...asksFor('airTemperature'),
  },
  group: 'Conditions',
  title: 'Mild air temperature',
  why: 'Air density, tyres and cabin all follow the temperature; far from the reference the corrections grow and are less sure.',
  appliesTo: 'Runs with an air temperature.',
  guidance: 'Drive in mild weather where you can choose.',
  quantity: 'Air temperature',
  unit: 'degC',
  decimals: 0,
  band: ({ airTemperature: limits }) => ({
    cautionFrom: limits.cautionFromC,
    passFrom: limits.passFromC,
    passTo: limits.passToC,
    cautionTo: limits.cautionToC,
  }),
  value: (facts, parameters) =>
    facts.record.readings.airTemperature?.value ?? notNoted(facts, parameters, 'airTemperature'),
  advice: 'Repeat in milder weather if you can.',
  asks: 'airTemperature',
});

const wind = oneSidedRule({
  id: 'wind',
  field: 'windSpeed',
  schema: {
    wind: ascending(
      {
        passUpToMps: limit('Mean wind, pass up to', 'm/s'),
        cautionUpToMps: limit('Mean wind, caution up to', 'm/s'),
      },
      ['passUpToMps', 'cautionUpToMps'],
    ),
    ...asksFor('wind'),
  },
  group: 'Conditions',
  title: 'Calm air',
  why: 'A loop does not cancel the wind altogether: along or across the road, wind always adds to the drag.',
  appliesTo: 'Runs with a wind speed.',
  guidance: 'Early mornings are often calm. Take the mean wind from the nearest station, not the gusts.',
  quantity: 'Mean wind',
  unit: 'm/s',
  decimals: 1,
  direction: 'atMost',
  band: ({ wind: limits }) => ({ pass: limits.passUpToMps, caution: limits.cautionUpToMps }),
  value: (facts, parameters) => facts.record.readings.windSpeed?.value ?? notNoted(facts, parameters, 'wind'),
  advice: 'Repeat on a calmer day if you can.',
  asks: 'wind',
});

/**
 * A wide gust spread is a caution and never a fail: the method carries it in the width of the result (method A4).
 * Stations leave small gusts out of their reports, so none stated is not an item that the run lacks.
 */
const gusts = defineRule({
  id: 'gusts',
  field: 'windGust',
  schema: { gusts: z.object({ passUpToMps: limit('Gusts over the mean wind, pass up to', 'm/s') }) },
  absence: 'notJudged',
  group: 'Conditions',
  title: 'Steady wind',
  why: 'Gusts push the car about the lane and make each leg meet another wind: the mean tells less of what the wind cost.',
  appliesTo: 'Runs with a mean wind and gusts.',
  guidance: 'Note the gusts of the report beside its mean wind, and choose an hour with a steady wind.',
  limits: ({ gusts: { passUpToMps } }) =>
    `Gusts over the mean wind ≤ ${writeLimit(passUpToMps, metresPerSecond)} pass, otherwise caution; not checked if no gusts are stated`,
  evaluate({ record }, { gusts: { passUpToMps } }) {
    const { windSpeed, windGust } = record.readings;
    if (windSpeed === undefined || windGust === undefined) {
      const lacking = windGust === undefined ? 'gusts were stated' : 'mean wind was noted';
      return { outcome: 'notChecked', numbers: [], sentence: `Not checked: no ${lacking}.` };
    }
    const overMeanMps = windGust.value - windSpeed.value;
    const isSteady = isAtMost(overMeanMps, passUpToMps);
    const shown = numberBeside(overMeanMps, [passUpToMps], metresPerSecond, 1);
    return {
      outcome: isSteady ? 'pass' : 'caution',
      numbers: [
        {
          name: 'Gusts over the mean wind',
          value: metresPerSecond.toShown(overMeanMps),
          unit: 'm/s',
          limit: metresPerSecond.toShown(passUpToMps),
        },
      ],
      ...spoken(
        said`Gusts were ${shown} over the mean wind; up to ${limitNumber(passUpToMps, metresPerSecond)} is within the protocol.`,
        isSteady ? '' : 'More is accepted with a caution. Repeat in a steadier wind if you can.',
      ),
    };
  },
});

/** What a direction costs that nobody noted grows with the square of the wind (method A4). */
const windDirection = oneSidedRule({
  id: 'wind-direction',
  field: 'windDirectionKnown',
  schema: {
    windDirection: ascending(
      {
        passUpToMps: limit('Mean wind without a known direction, pass up to', 'm/s'),
        cautionUpToMps: limit('Mean wind without a known direction, caution up to', 'm/s'),
      },
      ['passUpToMps', 'cautionUpToMps'],
    ),
  },
  group: 'Conditions',
  title: 'Wind direction known',
  why: 'Across the road the same wind costs several times what it costs along it. Without a direction it is counted as any.',
  appliesTo: 'Runs whose wind direction is not known.',
  guidance:
    'Note where the wind comes from; the nearest station’s report of the hour says it, also years later.',
  quantity: 'Mean wind of unknown direction',
  unit: 'm/s',
  decimals: 1,
  direction: 'atMost',
  band: ({ windDirection: limits }) => ({ pass: limits.passUpToMps, caution: limits.cautionUpToMps }),
  value: ({ record }) => {
    const { windSpeed } = record.readings;
    if (record.windDirectionKnown === 'no' && windSpeed !== undefined) return windSpeed.value;
    return {
      outcome: 'pass',
      numbers: [],
      sentence: 'The direction is noted, or there was no wind to speak of.',
    };
  },
  advice: 'Look the direction up in a station’s report of that hour.',
});

/** A station may be far and the road sheltered, so a difference is a caution and never a fail: both bands are one. */
const legWind = (() => {
  const judged = oneSidedRule({
    id: 'leg-wind',
    field: 'outboundEnergy',
    schema: {
      legWind: z.object({
        passUpToStandardUncertainties: limit('Legs’ wind off the report, pass up to times its ±', ''),
      }),
    },
    group: 'Conditions',
    title: 'Legs and reported wind agree',
    why: 'The difference between the legs tells the wind along the road. It should be the wind that was reported.',
    appliesTo: 'Runs with turnaround readings on a loop whose climb is known.',
    guidance: 'Note distance, energy and time at the turnaround.',
    quantity: 'Headwind of the legs off the report, in times its ±',
    opening: ({ normalisation }) => {
      const found = normalisation?.ok === true ? normalisation.windFinding : undefined;
      const implied = found === undefined ? '–' : metresPerSecond.number(found.impliedHeadwindMps, 1);
      const reported = found === undefined ? '–' : metresPerSecond.number(found.reportedHeadwindMps, 1);
      return said`The legs imply a headwind of ${implied} outbound where the report gives ${reported}; counted in what the difference may be off by (its ±), they differ by`;
    },
    unit: '',
    decimals: 1,
    direction: 'atMost',
    band: ({ legWind: { passUpToStandardUncertainties: pass } }) => ({
      pass,
      caution: pass,
    }),
    value: ({ normalisation }) => {
      const found = normalisation?.ok === true ? normalisation.windFinding : undefined;
      if (found === undefined) {
        const sentence = 'Not checked: the wind along the road could not be told from the legs.';
        return { outcome: 'notChecked', numbers: [], sentence };
      }
      return Math.abs(found.impliedHeadwindMps - found.reportedHeadwindMps) / found.standardUncertaintyMps;
    },
    advice: 'Check the wind direction (where it comes from), the station and the turnaround readings.',
  });
  return defineRule({
    ...judged,
    limits: ({ legWind: { passUpToStandardUncertainties: pass } }) =>
      `Headwind of the legs off the report ≤ ${writeLimit(pass, scaleOf(''))} times its ± pass, otherwise caution`,
    evaluate(facts, parameters) {
      const evaluation = judged.evaluate(facts, parameters);
      return evaluation.outcome === 'fail' ? { ...evaluation, outcome: 'caution' } : evaluation;
    },
  });
})();

const dryRoad = stateRule({
  id: 'dry-road',
  field: 'road',
  schema: {
    road: z.object({
      dry: verdict('Road dry'),
      damp: verdict('Road damp'),
      wet: verdict('Road wet'),
      snow: verdict('Snow or ice on the road'),
    }),
  },
  group: 'Conditions',
  title: 'Dry road',
  why: 'Tyres pump water aside. On a wet road they take several percent more, by an amount that nobody can read off.',
  appliesTo: 'Every run.',
  guidance: 'Wait until the whole loop is dry.',
  state: ({ record }) => record.road,
  verdicts: ({ road }) => road,
  words: {
    dry: { label: 'dry', sentence: 'The road was dry.' },
    damp: { label: 'damp', sentence: 'The road was damp.' },
    wet: { label: 'wet', sentence: 'The road was wet.' },
    snow: { label: 'snow or ice', sentence: 'There was snow or ice on the road.' },
  },
  advice: 'Repeat on a dry road.',
});

const noPrecipitation = stateRule({
  id: 'no-precipitation',
  field: 'precipitation',
  schema: {
    precipitation: z.object({
      none: verdict('No precipitation'),
      rain: verdict('Rain'),
      snow: verdict('Snow or sleet'),
    }),
  },
  group: 'Conditions',
  title: 'No precipitation',
  why: 'Rain and snow wet the road and add to the drag.',
  appliesTo: 'Every run.',
  guidance: 'Look at the radar for the time of the whole run before you start.',
  state: ({ record }) => record.precipitation,
  verdicts: ({ precipitation }) => precipitation,
  words: {
    none: { label: 'none', sentence: 'There was no precipitation.' },
    rain: { label: 'rain', sentence: 'It rained.' },
    snow: { label: 'snow or sleet', sentence: 'It snowed or sleeted.' },
  },
  advice: 'Repeat in dry weather.',
});

const traffic = stateRule({
  id: 'traffic',
  field: 'traffic',
  schema: {
    traffic: z.object({
      free: verdict('Traffic free'),
      moderate: verdict('Traffic moderate'),
      dense: verdict('Traffic dense'),
    }),
  },
  group: 'Conditions',
  title: 'Free traffic',
  why: 'Dense traffic drags the air along and lowers consumption; this only widens the uncertainty, it is not corrected.',
  appliesTo: 'Every run.',
  guidance: 'Choose an hour when the road is nearly empty.',
  state: ({ record }) => record.traffic,
  verdicts: ({ traffic: verdicts }) => verdicts,
  words: {
    free: { label: 'free', sentence: 'Traffic was free.' },
    moderate: { label: 'moderate', sentence: 'Traffic was moderate.' },
    dense: { label: 'dense', sentence: 'Traffic was dense.' },
  },
  advice: 'Repeat at a quieter hour.',
});

const closeFollowing = stateRule({
  id: 'no-close-following',
  field: 'closeFollowing',
  schema: {
    closeFollowing: z.object({
      none: verdict('No close following'),
      some: verdict('Close following for a part'),
    }),
  },
  group: 'Conditions',
  title: 'No close following',
  why: 'Following closely is dangerous, and the slipstream makes the number worthless.',
  appliesTo: 'Every run.',
  guidance: 'Keep a safe gap; let faster traffic pass and do not hang behind slower traffic.',
  state: ({ record }) => record.closeFollowing,
  verdicts: ({ closeFollowing: verdicts }) => verdicts,
  words: {
    none: { label: 'none', sentence: 'No other vehicle was followed closely.' },
    some: { label: 'for a part', sentence: 'Another vehicle was followed closely for a part of the run.' },
  },
  advice: 'Repeat the run with a safe gap all the way.',
});

const conditionsSource = stateRule({
  id: 'conditions-source',
  field: 'conditionsSource',
  schema: {
    conditionsSource: z.object({
      stationReport: verdict('Weather from a station report'),
      ownInstrument: verdict('Weather from an own instrument'),
      carDisplay: verdict('Weather from the car’s display'),
      forecast: verdict('Weather from a forecast'),
    }),
  },
  group: 'Conditions',
  title: 'Weather from a measurement',
  why: 'A forecast is a guess, and a car’s thermometer sits in its own warm air.',
  appliesTo: 'Every run.',
  guidance: 'Paste the report of the nearest weather station, or measure at the loop.',
  state: ({ record }) => record.conditionsSource,
  verdicts: ({ conditionsSource: verdicts }) => verdicts,
  words: {
    stationReport: {
      label: 'station report',
      sentence: 'The weather comes from the report of a weather station.',
    },
    ownInstrument: {
      label: 'own instrument',
      sentence: 'The weather was measured at the loop with an own instrument.',
    },
    carDisplay: { label: 'car’s display', sentence: 'The weather comes from the car’s display.' },
    forecast: { label: 'forecast', sentence: 'The weather comes from a forecast or an app.' },
  },
  advice: 'Look up the report of the nearest station for the hour of the run.',
});

const stationDistance = oneSidedRule({
  id: 'station-distance',
  field: 'stationDistance',
  schema: {
    stationDistance: ascending(
      {
        passUpToM: limit('Weather station’s distance, pass up to', 'km'),
        cautionUpToM: limit('Weather station’s distance, caution up to', 'km'),
      },
      ['passUpToM', 'cautionUpToM'],
    ),
    ...asksFor('stationDistance'),
  },
  group: 'Conditions',
  title: 'Weather station near the loop',
  why: 'The farther the station, the less its wind and temperature say about the road.',
  appliesTo: 'Runs whose weather comes from a station.',
  guidance: 'Choose the nearest station to the middle of the loop and note how far it is.',
  quantity: 'Distance of the weather station',
  unit: 'km',
  decimals: 0,
  direction: 'atMost',
  band: ({ stationDistance: limits }) => ({ pass: limits.passUpToM, caution: limits.cautionUpToM }),
  value: (facts, parameters) => {
    if (facts.record.conditionsSource !== 'stationReport') {
      const sentence = 'Not checked: the weather does not come from a station.';
      return { outcome: 'notChecked', numbers: [], sentence };
    }
    return (
      facts.record.readings.stationDistance?.value ??
      notNoted(
        facts,
        parameters,
        'stationDistance',
        'Note how far the station is from the middle of the loop.',
      )
    );
  },
  advice: 'Look for a nearer station, or measure at the loop.',
  asks: 'stationDistance',
});

export const CONDITIONS_RULES = [
  airTemperature,
  wind,
  gusts,
  windDirection,
  legWind,
  dryRoad,
  noPrecipitation,
  traffic,
  closeFollowing,
  conditionsSource,
  stationDistance,
] as const;
