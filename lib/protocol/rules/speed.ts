import { z } from 'zod';
import { said } from '@/lib/units/said';
import { isAtLeast, isAtMost } from '../grading';
import { oneSidedRule } from '../limitRule';
import { ASKED_ITEMS, asksFor, notNoted } from '../missing';
import { ascending, limit, share, verdict } from '../parameterKinds';
import { defineRule } from '../rule';
import { stateRule } from '../stateRule';
import { limitNumber, numberBeside, scaleOf, spoken, writeLimit } from '../wording';

const kmh = scaleOf('km/h');
const percent = scaleOf('%');

const trueSpeedVerified = stateRule({
  id: 'true-speed-verified',
  field: 'trueSpeedMethod',
  schema: {
    trueSpeed: z.object({
      positioning: verdict('True speed from satellite positioning'),
      calibratedSpeedometer: verdict('True speed from a calibrated speedometer'),
      calibrationMissing: verdict('Calibration named but none valid on the date'),
      notVerified: verdict('True speed not verified'),
    }),
  },
  group: 'Speed',
  title: 'True speed verified',
  why: 'Drag grows with the square of the speed: a speedometer that shows 3 % too much moves the result by about 4 %.',
  appliesTo: 'Every run.',
  guidance: 'Read the speed from satellite positioning, or from a speedometer with a calibration on file.',
  state: ({ record, car }) =>
    record.trueSpeedMethod === 'calibratedSpeedometer' && !car.hasSpeedometerCalibration
      ? 'calibrationMissing'
      : record.trueSpeedMethod,
  verdicts: ({ trueSpeed }) => trueSpeed,
  words: {
    positioning: {
      label: 'satellite positioning',
      sentence: 'The true speed was read from satellite positioning.',
    },
    calibratedSpeedometer: {
      label: 'calibrated speedometer',
      sentence: 'The true speed was read from a speedometer with a calibration valid on the day.',
    },
    calibrationMissing: {
      label: 'calibrated speedometer without a calibration valid on the day',
      sentence:
        'The form names a calibrated speedometer, but no calibration of this car is valid on the day.',
    },
    notVerified: { label: 'not verified', sentence: 'The true speed was not verified.' },
  },
  advice: 'Add the calibration to the car, or repeat the run with satellite positioning.',
});

const meanCruiseSpeed = oneSidedRule({
  id: 'mean-cruise-speed',
  field: 'trueSpeed',
  schema: {
    cruiseSpeed: ascending(
      {
        passUpToMps: limit('Cruise speed off its class, pass up to', 'km/h'),
        cautionUpToMps: limit('Cruise speed off its class, caution up to', 'km/h'),
      },
      ['passUpToMps', 'cautionUpToMps'],
    ),
    ...asksFor('trueSpeed'),
  },
  group: 'Speed',
  title: 'Cruise speed at its class',
  why: 'A run is brought to the exact speed of its class; the shorter that step, the surer the result.',
  appliesTo: 'Runs with a true cruise speed.',
  guidance: 'Set the speed by the true reading, not by the speedometer, and leave it alone.',
  quantity: 'Cruise speed off its class',
  opening: ({ record, cruiseClass }) => {
    const speed = record.readings.trueSpeed;
    const shown = speed === undefined ? '–' : kmh.number(speed.value, 1);
    return said`The true cruise speed was ${shown} in the class ${cruiseClass.label}, off by`;
  },
  unit: 'km/h',
  decimals: 1,
  direction: 'atMost',
  band: ({ cruiseSpeed }) => ({ pass: cruiseSpeed.passUpToMps, caution: cruiseSpeed.cautionUpToMps }),
  value: (facts, parameters) => {
    const speed = facts.record.readings.trueSpeed;
    if (speed === undefined) return notNoted(facts, parameters, 'trueSpeed');
    return Math.abs(speed.value - facts.cruiseClass.speedMps);
  },
  advice: 'Repeat the run at the speed of the class, or choose the class that was driven.',
  asks: 'trueSpeed',
});

const cruiseSpeedBand = oneSidedRule({
  id: 'cruise-speed-band',
  field: 'withinBandShare',
  schema: {
    speedBand: ascending(
      {
        halfWidthMps: limit('Half-width of the speed band', 'km/h'),
        passFromShare: share('Cruise time within the band, pass from'),
        cautionFromShare: share('Cruise time within the band, caution from'),
      },
      ['cautionFromShare', 'passFromShare'],
    ),
    ...asksFor('withinBandShare'),
  },
  group: 'Speed',
  title: 'Cruise speed held',
  why: 'Speeding up and slowing down costs energy that a steady-speed model does not know of.',
  appliesTo: 'Runs with a trace.',
  guidance: 'Use the speed control in free traffic, and attach a trace to show it.',
  quantity: 'Cruise time within the speed band',
  described: ({ speedBand }) => `Cruise time within ±${writeLimit(speedBand.halfWidthMps, kmh)} of the class`,
  opening: (_facts, { speedBand }) =>
    said`Share of cruise time within ±${limitNumber(speedBand.halfWidthMps, kmh)} of the class was`,
  unit: '%',
  decimals: 0,
  direction: 'atLeast',
  band: ({ speedBand }) => ({ pass: speedBand.passFromShare, caution: speedBand.cautionFromShare }),
  value: (facts, parameters) =>
    facts.record.readings.withinBandShare?.value ??
    notNoted(facts, parameters, 'withinBandShare', 'A trace of the run would show it.'),
  advice: 'Repeat the run when traffic is freer.',
  asks: 'withinBandShare',
});

/**
 * The normal band of a speedometer: it never shows less than the true speed, and more by at most a tenth plus 4 km/h
 * (shape of the band: UN Regulation No. 39, from memory). A display of 71 at a true 70 mph is normal
 * (common practice, no source).
 */
const speedometerError = defineRule({
  id: 'speedometer-error',
  field: 'indicatedSpeed',
  schema: {
    speedometer: z.object({
      overReadingShare: share('Speedometer may show more than true by this share'),
      overReadingOffsetMps: limit('Speedometer may show more than true by this, besides the share', 'km/h'),
      underReadingMps: limit('Speedometer may show less than true by', 'km/h'),
    }),
  },
  absence: 'notJudged',
  group: 'Speed',
  title: 'Shown and true speed make sense together',
  why: 'Speedometers show a little more than the truth. Outside that habit, one of the two speeds is misread or swapped.',
  appliesTo: 'Runs with both a true and a shown speed.',
  guidance: 'Note what the speedometer showed at the true cruise speed.',
  limits: ({ speedometer }) =>
    `Shown speed from ${writeLimit(speedometer.underReadingMps, kmh)} below the true one to ${writeLimit(speedometer.overReadingShare, percent)} plus ${writeLimit(speedometer.overReadingOffsetMps, kmh)} above it pass, otherwise caution`,
  evaluate({ record }, { speedometer }) {
    const { trueSpeed, indicatedSpeed } = record.readings;
    if (trueSpeed === undefined || indicatedSpeed === undefined) {
      const lacking = trueSpeed === undefined ? ASKED_ITEMS.trueSpeed.words : 'speed shown by the car';
      return { outcome: 'notChecked', numbers: [], sentence: `Not checked: no ${lacking} was noted.` };
    }
    const errorMps = indicatedSpeed.value - trueSpeed.value;
    const roundingMps = (indicatedSpeed.high - indicatedSpeed.low + trueSpeed.high - trueSpeed.low) / 2;
    const upperMps = trueSpeed.value * speedometer.overReadingShare + speedometer.overReadingOffsetMps;
    const lowerMps = -speedometer.underReadingMps;
    const isBelow = !isAtLeast(errorMps + roundingMps, lowerMps);
    const isAbove = !isAtMost(errorMps - roundingMps, upperMps);
    const shown = numberBeside(Math.abs(errorMps), [upperMps], kmh, 1);
    const side = errorMps < 0 ? 'less' : 'more';
    const normal = said`up to ${kmh.number(upperMps, 1)} more is usual for a speedometer`;
    return {
      outcome: isBelow || isAbove ? 'caution' : 'pass',
      numbers: [
        {
          name: 'Shown less true speed',
          value: kmh.toShown(errorMps),
          unit: 'km/h',
          limit: kmh.toShown(isBelow ? lowerMps : upperMps),
        },
      ],
      ...spoken(
        said`The car showed ${shown} ${side} than the true speed; ${normal}.`,
        isBelow || isAbove ? 'Check both speeds: one may be misread, or the two swapped.' : '',
      ),
    };
  },
});

export const SPEED_RULES = [trueSpeedVerified, meanCruiseSpeed, cruiseSpeedBand, speedometerError] as const;
