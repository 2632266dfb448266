import { describe, expect, it } from 'vitest';
import type { RunFacts } from '@/lib/protocol/facts';
import type { Outcome } from '@/lib/protocol/rule';
import { CRUISE_CLASSES } from '@/lib/run/cruiseClass';
import type { RunRecord } from '@/lib/run/runRecord';
import { exactReading, findingOf, GOOD_RUN, outcomeOf, withReading, withRecord } from './exampleFacts';
import { VERSIONS_UNDER_TEST } from './versionsUnderTest';

const noEnergyDetail = { relativeResolutionUncertainty: 0.001 };

/** Method A5: dry road, no precipitation, no close following; the rest of the choices are version 1.0's own. */
const STATES: readonly (readonly [ruleId: string, change: Partial<RunRecord>, outcome: Outcome])[] = [
  ['dry-road', { road: 'dry' }, 'pass'],
  ['dry-road', { road: 'damp' }, 'caution'],
  ['dry-road', { road: 'wet' }, 'fail'],
  ['dry-road', { road: 'snow' }, 'fail'],
  ['no-precipitation', { precipitation: 'none' }, 'pass'],
  ['no-precipitation', { precipitation: 'rain' }, 'fail'],
  ['no-precipitation', { precipitation: 'snow' }, 'fail'],
  ['traffic', { traffic: 'free' }, 'pass'],
  ['traffic', { traffic: 'moderate' }, 'pass'],
  ['traffic', { traffic: 'dense' }, 'caution'],
  ['no-close-following', { closeFollowing: 'none' }, 'pass'],
  ['no-close-following', { closeFollowing: 'some' }, 'fail'],
  ['conditions-source', { conditionsSource: 'stationReport' }, 'pass'],
  ['conditions-source', { conditionsSource: 'ownInstrument' }, 'pass'],
  ['conditions-source', { conditionsSource: 'carDisplay' }, 'caution'],
  ['conditions-source', { conditionsSource: 'forecast' }, 'caution'],
  ['true-speed-verified', { trueSpeedMethod: 'positioning' }, 'pass'],
  ['true-speed-verified', { trueSpeedMethod: 'calibratedSpeedometer' }, 'fail'],
  ['true-speed-verified', { trueSpeedMethod: 'notVerified' }, 'fail'],
  ['climate-noted', { climate: 'off' }, 'pass'],
  ['climate-noted', { climate: 'mild' }, 'pass'],
  ['climate-noted', { climate: 'cooling' }, 'caution'],
  ['climate-noted', { climate: 'heating' }, 'caution'],
  ['recorded-as-driven', { isRetrospective: false }, 'pass'],
  ['recorded-as-driven', { isRetrospective: true }, 'caution'],
];

describe('rules about what a tester states', () => {
  const judged = VERSIONS_UNDER_TEST.flatMap(({ name, version }) =>
    STATES.map((state) => [...state, name, version.parameters] as const),
  );

  it.each(judged)('%s with %j is %s under %s', (ruleId, change, outcome, _name, parameters) => {
    const finding = findingOf(ruleId, withRecord(change), parameters);
    expect(finding.outcome).toBe(outcome);
    if (outcome === 'caution') expect(finding.sentence).toContain('with a caution');
    if (outcome === 'fail') expect(finding.sentence).toContain('does not accept this');
  });

  it('takes a calibrated speedometer where the calibration is valid on the day', () => {
    const facts = withRecord({ trueSpeedMethod: 'calibratedSpeedometer' });
    expect(outcomeOf('true-speed-verified', { ...facts, car: { hasSpeedometerCalibration: true } })).toBe(
      'pass',
    );
    expect(findingOf('true-speed-verified', facts).sentence).toContain('no calibration of this car is valid');
  });

  it('passes heating where the auxiliary power was read', () => {
    const heated = withRecord({ climate: 'heating' });
    const read = withReading('auxiliaryPower', exactReading('auxiliaryPower', 1800, 'kW'), heated);
    const finding = findingOf('climate-noted', read);
    expect(finding.outcome).toBe('pass');
    expect(finding.numbers).toEqual([{ name: 'Auxiliary power', value: 1.8, unit: 'kW' }]);
  });
});

describe('speedometer-error', () => {
  const speeds = (trueKmh: number, shownKmh: number): RunFacts =>
    withReading(
      'indicatedSpeed',
      exactReading('indicatedSpeed', shownKmh / 3.6, 'km/h'),
      withReading('trueSpeed', exactReading('trueSpeed', trueKmh / 3.6, 'km/h')),
    );

  // UN Regulation No. 39, from memory: 0 ≤ shown − true ≤ true/10 + 4 km/h; at a true 100 km/h: 100 to 114 km/h
  it.each([
    [100, 100, 'pass'],
    [100, 114, 'pass'],
    [100, 114.1, 'caution'],
    [100, 99.9, 'caution'],
    [80, 92, 'pass'],
    [80, 92.1, 'caution'],
  ] as const)('judges %d km/h shown as %d as %s', (trueKmh, shownKmh, outcome) => {
    expect(outcomeOf('speedometer-error', speeds(trueKmh, shownKmh))).toBe(outcome);
  });

  it('finds a display of 71 at a true 70 mph normal (common practice, no source)', () => {
    expect(outcomeOf('speedometer-error', speeds(70 * 1.609344, 71 * 1.609344))).toBe('pass');
  });

  it('allows for the rounding of both speeds', () => {
    const facts = speeds(110.4, 110);
    expect(outcomeOf('speedometer-error', facts)).toBe('caution');
    const shown = {
      ...exactReading('indicatedSpeed', 110 / 3.6, 'km/h'),
      low: 109.5 / 3.6,
      high: 110.5 / 3.6,
    };
    expect(outcomeOf('speedometer-error', withReading('indicatedSpeed', shown, facts))).toBe('pass');
  });

  it('allows for half a last digit of each speed, not for a whole one', () => {
    // at a true 100 km/h up to 114: 114.7 ± 0.5 starts at 114.2, so no rounding explains it; 114.4 ± 0.5 reaches 114
    const rounded = (shownKmh: number) => ({
      ...exactReading('indicatedSpeed', shownKmh / 3.6, 'km/h'),
      low: (shownKmh - 0.5) / 3.6,
      high: (shownKmh + 0.5) / 3.6,
    });
    const outcomeAt = (shownKmh: number) =>
      outcomeOf('speedometer-error', withReading('indicatedSpeed', rounded(shownKmh), speeds(100, 100)));
    expect(outcomeAt(114.4)).toBe('pass');
    expect(outcomeAt(114.7)).toBe('caution');
    const trueSpeed = {
      ...exactReading('trueSpeed', 100 / 3.6, 'km/h'),
      low: 99.5 / 3.6,
      high: 100.5 / 3.6,
    };
    const below = (shownKmh: number) =>
      outcomeOf('speedometer-error', withReading('trueSpeed', trueSpeed, speeds(100, shownKmh)));
    expect(below(99.6)).toBe('pass');
    expect(below(99.3)).toBe('caution');
  });

  it('is not checked with one speed alone', () => {
    expect(outcomeOf('speedometer-error', withReading('indicatedSpeed', undefined))).toBe('notChecked');
    expect(outcomeOf('speedometer-error', withReading('trueSpeed', undefined))).toBe('notChecked');
  });
});

describe('cold-tyre-pressures', () => {
  const rear = (bar: number) => exactReading('pressureRear', bar * 1e5, 'bar');

  it('takes the graver axle', () => {
    const finding = findingOf('cold-tyre-pressures', withReading('pressureRear', rear(2.4)));
    expect(finding.outcome).toBe('fail');
    expect(finding.sentence).toMatch(/rear 2\.40.bar for 2\.70.bar \(11\.1.% below\)/);
  });

  it('uses the placard of the car where the form gives none', () => {
    const { placardFront, placardRear, ...readings } = GOOD_RUN.record.readings;
    const without = withRecord({ readings });
    expect(outcomeOf('cold-tyre-pressures', without)).toBe('caution');
    const car = { hasSpeedometerCalibration: false, placardFrontPa: 250_000, placardRearPa: 270_000 };
    expect(outcomeOf('cold-tyre-pressures', { ...without, car })).toBe('pass');
    expect(outcomeOf('cold-tyre-pressures', { ...without, car: { ...car, placardRearPa: 310_000 } })).toBe(
      'fail',
    );
  });

  it('does not let a missing axle hide a bad one', () => {
    const lacking = withReading('pressureFront', undefined);
    expect(outcomeOf('cold-tyre-pressures', lacking)).toBe('caution');
    expect(outcomeOf('cold-tyre-pressures', withReading('pressureRear', rear(3.5), lacking))).toBe('fail');
  });
});

describe('energy-readings-agree', () => {
  const energy = (birgeRatio: number | undefined, pValue?: number): RunFacts => ({
    ...GOOD_RUN,
    energy: {
      ...noEnergyDetail,
      ...(birgeRatio === undefined ? {} : { birgeRatio }),
      ...(pValue === undefined
        ? {}
        : { disagreeing: { label: 'charger', standardisedResidual: -3.4, chiSquare: 11.6, pValue } }),
    },
  });

  it.each([
    [0.5, undefined, 'pass'],
    [2, undefined, 'pass'],
    [2.01, undefined, 'caution'],
    [1.9, 0.0099, 'caution'],
    [1.9, 0.01, 'pass'],
    [4, 0.0001, 'caution'],
    [4, 0.00009, 'fail'],
    [undefined, 0.00009, 'fail'],
    [undefined, undefined, 'notChecked'],
  ] as const)('judges a Birge ratio of %s with p = %s as %s', (birgeRatio, pValue, outcome) => {
    expect(outcomeOf('energy-readings-agree', energy(birgeRatio, pValue))).toBe(outcome);
  });

  it('names the odd one out', () => {
    const { sentence } = findingOf('energy-readings-agree', energy(3.4, 0.0007));
    expect(sentence).toContain(
      '“charger” is the odd one out, 3.4 times its ± from the rest (chance by luck alone = 0.0007)',
    );
  });
});

describe('loop rules beside rounding', () => {
  it('counts the trip’s rounding in favour of agreement', () => {
    const trip = (valueKm: number, halfDigitKm: number) =>
      withReading('tripDistance', {
        ...exactReading('tripDistance', valueKm * 1000, 'km'),
        low: (valueKm - halfDigitKm) * 1000,
        high: (valueKm + halfDigitKm) * 1000,
      });
    // the loop is 106.7 to 107.1 km long; 2 % of 106.9 km is 2.138 km: agreement reaches from 104.562 to 109.238 km
    for (const [valueKm, sharp, rounded] of [
      [104.3, 'caution', 'pass'],
      [109.5, 'caution', 'pass'],
      [104.0, 'caution', 'caution'],
      [110.0, 'caution', 'caution'],
    ] as const) {
      expect(outcomeOf('distance-matches-loop', trip(valueKm, 0))).toBe(sharp);
      expect(outcomeOf('distance-matches-loop', trip(valueKm, 0.5))).toBe(rounded);
    }
  });

  it('finds a class equal to the limit within it, in whichever unit the limit was entered', () => {
    for (const cruiseClass of CRUISE_CLASSES) {
      for (const noise of [1 - 2e-16, 1, 1 + 2e-16]) {
        const loop = { ...GOOD_RUN.loop, postedLimitMps: cruiseClass.speedMps * noise };
        expect(outcomeOf('posted-limit', { ...GOOD_RUN, cruiseClass, loop }), cruiseClass.key).toBe('pass');
      }
    }
  });
});

describe('within-reach, duplicates and the rest', () => {
  it('gives the reasons where a run is out of reach, and leaves the other results unchecked', () => {
    const facts: RunFacts = {
      ...GOOD_RUN,
      normalisation: { ok: false, reasons: ['The mass is not known.'] },
    };
    const finding = findingOf('within-reach', facts);
    expect(finding.outcome).toBe('caution');
    expect(finding.sentence).toContain('The mass is not known.');
    expect(outcomeOf('adjustment-total', facts)).toBe('notChecked');
    expect(outcomeOf('road-load-scale', facts)).toBe('notChecked');
    expect(outcomeOf('leg-wind', facts)).toBe('notChecked');
  });

  it('leaves the results unchecked before they are computed', () => {
    const facts: RunFacts = { ...GOOD_RUN, normalisation: undefined };
    for (const id of ['within-reach', 'adjustment-total', 'road-load-scale', 'leg-wind']) {
      expect(outcomeOf(id, facts), id).toBe('notChecked');
    }
  });

  it('leaves the wind of the legs unchecked where it was not found', () => {
    const normalisation = { ok: true, adjustmentRelative: 0, scale: 1 } as const;
    expect(outcomeOf('leg-wind', { ...GOOD_RUN, normalisation })).toBe('notChecked');
  });

  it('fails a duplicate by the number of the earlier run', () => {
    const finding = findingOf('not-duplicate', { ...GOOD_RUN, duplicateOfRunNumber: 417 });
    expect(finding.outcome).toBe('fail');
    expect(finding.sentence).toContain('Run 417');
    expect(outcomeOf('not-duplicate', GOOD_RUN)).toBe('pass');
  });

  it('checks the start charge only within a study', () => {
    const { study, ...alone } = GOOD_RUN;
    expect(outcomeOf('start-charge', alone)).toBe('notChecked');
  });

  it('checks the distance of the station only where there is one', () => {
    expect(outcomeOf('station-distance', withRecord({ conditionsSource: 'ownInstrument' }))).toBe(
      'notChecked',
    );
  });

  it('refuses an instant that is none', () => {
    expect(() => outcomeOf('date-not-ahead', { ...GOOD_RUN, now: 'yesterday' })).toThrow(RangeError);
  });

  it('counts time zones in the date', () => {
    const at = (startedAt: string) => outcomeOf('date-not-ahead', withRecord({ startedAt }));
    // 62 minutes after 18:30 at +02:00 is 17:32 UTC, before the clock's 18:00; at UTC it is 19:32
    expect(at('2031-05-04T18:30:00+02:00')).toBe('pass');
    expect(at('2031-05-04T18:30:00Z')).toBe('fail');
  });
});
