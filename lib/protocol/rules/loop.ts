import { said } from '@/lib/units/said';
import { isAtMost } from '../grading';
import { oneSidedRule } from '../limitRule';
import { asksFor, notNoted } from '../missing';
import { ascending, limit, share } from '../parameterKinds';
import { defineRule } from '../rule';
import { limitNumber, numberBeside, scaleOf, spoken } from '../wording';

const km = scaleOf('km');
const kmh = scaleOf('km/h');

const loopClosureDistance = oneSidedRule({
  id: 'loop-closure-distance',
  field: 'loopId',
  schema: {
    loopClosure: ascending(
      {
        distancePassUpToM: limit('Start to finish, pass up to', 'm'),
        distanceCautionUpToM: limit('Start to finish, caution up to', 'm'),
      },
      ['distancePassUpToM', 'distanceCautionUpToM'],
    ),
  },
  group: 'Loop',
  title: 'Start and finish at one place',
  why: 'Only a closed loop gives back what it climbs, and nearly all that a wind along the road takes.',
  appliesTo: 'Every run.',
  guidance: 'Start and finish at the same mark, a sign or a bay that you can find again.',
  quantity: 'Distance from start to finish',
  unit: 'm',
  decimals: 0,
  direction: 'atMost',
  band: ({ loopClosure }) => ({
    pass: loopClosure.distancePassUpToM,
    caution: loopClosure.distanceCautionUpToM,
  }),
  value: ({ loop }) => loop.closureDistanceM,
  advice: 'Move the finish of the loop back to its start.',
});

const loopClosureHeight = oneSidedRule({
  id: 'loop-closure-height',
  field: 'loopId',
  schema: {
    loopClosure: ascending(
      {
        heightPassUpToM: limit('Height of start to finish, pass up to', 'm'),
        heightCautionUpToM: limit('Height of start to finish, caution up to', 'm'),
      },
      ['heightPassUpToM', 'heightCautionUpToM'],
    ),
  },
  group: 'Loop',
  title: 'Start and finish at one height',
  why: 'A tonne of car raised by one metre takes about 3 Wh that a display counts as consumption.',
  appliesTo: 'Every run.',
  guidance: 'Choose a start and a finish on the same level.',
  quantity: 'Difference in height from start to finish',
  unit: 'm',
  decimals: 1,
  direction: 'atMost',
  band: ({ loopClosure }) => ({
    pass: loopClosure.heightPassUpToM,
    caution: loopClosure.heightCautionUpToM,
  }),
  value: ({ loop }) => Math.abs(loop.closureHeightM),
  advice: 'Move the finish of the loop to the height of its start.',
});

const sharedRoute = oneSidedRule({
  id: 'legs-share-route',
  field: 'loopId',
  schema: {
    sharedRoute: ascending(
      {
        passFromShare: share('Route shared by the legs, pass from'),
        cautionFromShare: share('Route shared by the legs, caution from'),
      },
      ['cautionFromShare', 'passFromShare'],
    ),
  },
  group: 'Loop',
  title: 'Both legs on one road',
  why: 'Wind and slope cancel only where the way back is the way out.',
  appliesTo: 'Every run.',
  guidance: 'Drive out and back on the same road; keep the turnaround short.',
  quantity: 'Route shared by the two legs',
  unit: '%',
  decimals: 0,
  direction: 'atLeast',
  band: ({ sharedRoute: limits }) => ({ pass: limits.passFromShare, caution: limits.cautionFromShare }),
  value: ({ loop }) => loop.sharedRouteShare,
  advice: 'Choose a loop whose return leg follows the outbound one.',
});

const offCruise = oneSidedRule({
  id: 'off-cruise-share',
  field: 'loopId',
  schema: {
    offCruise: ascending(
      {
        passUpToShare: share('Distance off cruise speed, pass up to'),
        cautionUpToShare: share('Distance off cruise speed, caution up to'),
      },
      ['passUpToShare', 'cautionUpToShare'],
    ),
  },
  group: 'Loop',
  title: 'Little distance off the cruise speed',
  why: 'Ramps and streets are modelled, not measured: the less of them, the surer the result.',
  appliesTo: 'Every run.',
  guidance: 'Start close to the ramp and choose a long loop with a short turnaround.',
  quantity: 'Distance off the cruise speed',
  unit: '%',
  decimals: 1,
  direction: 'atMost',
  band: ({ offCruise: limits }) => ({ pass: limits.passUpToShare, caution: limits.cautionUpToShare }),
  value: ({ loop }) => loop.offCruiseShare,
  advice: 'A longer loop, or a start nearer to the ramp, lowers it.',
});

const loopDistance = oneSidedRule({
  id: 'distance-matches-loop',
  field: 'tripDistance',
  schema: {
    loopDistance: ascending(
      {
        passUpToShare: share('Trip distance off the loop’s length, pass up to'),
        cautionUpToShare: share('Trip distance off the loop’s length, caution up to'),
        coverageFactor: limit('Times the ± of the loop’s length allowed for', ''),
      },
      ['passUpToShare', 'cautionUpToShare'],
    ),
    ...asksFor('tripDistance'),
  },
  group: 'Loop',
  title: 'Trip distance agrees with the loop',
  why: 'A trip distance far from the loop’s length means another route, a trip not reset or a misread digit.',
  appliesTo: 'Runs with a trip distance.',
  guidance: 'Reset the trip at the start, and photograph it at the finish.',
  quantity: 'Distance unexplained by rounding and the loop’s uncertainty',
  described: ({ loopDistance: { coverageFactor } }) =>
    `Trip distance off the loop’s length, beyond rounding and ${coverageFactor} times the ± of the loop’s length,`,
  opening: ({ record, loop }) => {
    const trip = record.readings.tripDistance;
    const shown = trip === undefined ? '–' : km.number(trip.value, 2);
    return said`The trip showed ${shown} and the loop is ${km.number(loop.lengthM, 2)} long; rounding and the loop’s uncertainty leave unexplained`;
  },
  unit: '%',
  decimals: 1,
  direction: 'atMost',
  band: ({ loopDistance: limits }) => ({ pass: limits.passUpToShare, caution: limits.cautionUpToShare }),
  value: (facts, parameters) => {
    const trip = facts.record.readings.tripDistance;
    if (trip === undefined) return notNoted(facts, parameters, 'tripDistance');
    const allowanceM = parameters.loopDistance.coverageFactor * facts.loop.lengthUncertaintyM;
    const shortM = facts.loop.lengthM - allowanceM - trip.high;
    const longM = trip.low - facts.loop.lengthM - allowanceM;
    return Math.max(0, shortM, longM) / facts.loop.lengthM;
  },
  advice: 'Check the digits against the photo, and that this was the loop driven.',
  asks: 'tripDistance',
});

/** Law comes first: no version may loosen this, so it has no parameter. */
const postedLimit = defineRule({
  id: 'posted-limit',
  field: 'cruiseClassKey',
  schema: {},
  absence: { heldBy: {} },
  group: 'Loop',
  title: 'Class within the posted limit',
  why: 'Posted limits and local law come before any measurement.',
  appliesTo: 'Every run.',
  guidance: 'Choose a cruise class at or below the lowest limit posted on the open legs.',
  limits: () => 'Cruise class ≤ the loop’s posted limit pass, otherwise fail; no version can change this',
  evaluate({ loop, cruiseClass }) {
    const isWithin = isAtMost(cruiseClass.speedMps, loop.postedLimitMps);
    const classText = numberBeside(cruiseClass.speedMps, [loop.postedLimitMps], kmh, 0);
    return {
      outcome: isWithin ? 'pass' : 'fail',
      numbers: [
        {
          name: 'Speed of the class',
          value: kmh.toShown(cruiseClass.speedMps),
          unit: 'km/h',
          limit: kmh.toShown(loop.postedLimitMps),
        },
      ],
      ...spoken(
        said`The class ${cruiseClass.label} is ${classText}; ${loop.name} is posted at ${limitNumber(loop.postedLimitMps, kmh)}.`,
        isWithin ? '' : 'Choose a lower class on this loop.',
      ),
    };
  },
});

export const LOOP_RULES = [
  loopClosureDistance,
  loopClosureHeight,
  sharedRoute,
  offCruise,
  loopDistance,
  postedLimit,
] as const;
