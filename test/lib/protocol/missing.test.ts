import { describe, expect, it } from 'vitest';
import type { RunFacts } from '@/lib/protocol/facts';
import { ASKED_ITEMS, missingItems } from '@/lib/protocol/missing';
import type { Outcome } from '@/lib/protocol/rule';
import type { RunQuantity } from '@/lib/run/fields/table';
import { changed, findingOf, GOOD_RUN, outcomeOf, withReading, withRecord } from './exampleFacts';
import { VERSIONS_UNDER_TEST } from './versionsUnderTest';

const without = (quantity: RunQuantity): RunFacts => withReading(quantity, undefined);
const withPhotos = (...evidenceKinds: string[]): RunFacts => ({ ...GOOD_RUN, evidenceKinds });

/** Version 1.0's own choices of what an absence counts as. */
const ABSENCES: readonly (readonly [
  item: string,
  ruleId: string,
  facts: RunFacts,
  ordinary: Outcome,
  words: string,
])[] = [
  ['trueSpeed', 'mean-cruise-speed', without('trueSpeed'), 'fail', 'true cruise speed'],
  ['withinBandShare', 'cruise-speed-band', without('withinBandShare'), 'notChecked', 'within the speed band'],
  ['tripDistance', 'distance-matches-loop', without('tripDistance'), 'fail', 'trip distance'],
  ['coldPressures', 'cold-tyre-pressures', without('pressureRear'), 'caution', 'cold tyre pressures'],
  ['warmUp', 'warm-up', without('warmUpDistance'), 'caution', 'warm-up'],
  ['load', 'load-noted', without('loadMass'), 'caution', 'people and load'],
  ['chargeStart', 'start-charge', without('chargeStart'), 'caution', 'charge at start'],
  ['chargeEnd', 'end-charge', without('chargeEnd'), 'caution', 'charge at finish'],
  ['airTemperature', 'air-temperature', without('airTemperature'), 'fail', 'air temperature'],
  ['wind', 'wind', without('windSpeed'), 'fail', 'wind'],
  [
    'stationDistance',
    'station-distance',
    without('stationDistance'),
    'caution',
    'distance of the weather station',
  ],
  [
    'startDisplayPhoto',
    'start-display-photo',
    withPhotos('finishDisplay'),
    'fail',
    'photo of the display at start',
  ],
  ['finishDisplayPhoto', 'finish-display-photo', withPhotos('startDisplay'), 'fail', 'display at finish'],
];

describe.each(ABSENCES)('a run without %s', (_item, ruleId, facts, ordinary, words) => {
  it.each(VERSIONS_UNDER_TEST)('is judged by the data of $name', ({ version: { parameters } }) => {
    expect(outcomeOf(ruleId, GOOD_RUN, parameters)).toBe('pass');
    expect(outcomeOf(ruleId, facts, parameters)).toBe(ordinary);
  });

  it('has a caution where it was recorded afterwards, in words and never silent', () => {
    const retrospective = withRecord({ isRetrospective: true }, facts);
    const finding = findingOf(ruleId, retrospective);
    expect(finding.outcome).toBe('caution');
    expect(finding.sentence).toContain(words);
    expect(finding.sentence).toContain('recorded afterwards');
    expect(findingOf('recorded-as-driven', retrospective).sentence).toContain(words);
    expect(missingItems(retrospective).join()).toContain(words);
  });

  it('fails where a version is stricter about runs recorded afterwards', () => {
    const strict = changed('retrospective', { whenMissing: 'fail' });
    expect(outcomeOf(ruleId, withRecord({ isRetrospective: true }, facts), strict)).toBe('fail');
  });
});

describe('a run without a share within the speed band', () => {
  it('is told of the trace where that can still help, not where the run was recorded afterwards', () => {
    const facts = without('withinBandShare');
    expect(findingOf('cruise-speed-band', facts).sentence).toContain('A trace of the run would show it.');
    const afterwards = findingOf('cruise-speed-band', withRecord({ isRetrospective: true }, facts));
    expect(afterwards.sentence).not.toContain('trace');
  });
});

describe('missing items', () => {
  it('covers every item of the version’s data', () => {
    const items = ABSENCES.map(([item]) => item).sort();
    expect(items).toEqual(Object.keys(ASKED_ITEMS).sort());
  });

  it('finds none in a full run and counts them in the finding', () => {
    expect(missingItems(GOOD_RUN)).toEqual([]);
    const facts = withRecord({ isRetrospective: true, readings: {} });
    const { numbers } = findingOf('recorded-as-driven', { ...facts, evidenceKinds: [] });
    expect(numbers).toEqual([{ name: 'Items missing', value: ABSENCES.length, unit: '' }]);
  });

  it('asks for the distance of a station only where a station reported', () => {
    const far = without('stationDistance');
    expect(missingItems(far)).toEqual(['distance of the weather station']);
    expect(missingItems(withRecord({ conditionsSource: 'ownInstrument' }, far))).toEqual([]);
  });

  it('still refuses an unverified speed of a run recorded afterwards', () => {
    const facts = withRecord({ isRetrospective: true, trueSpeedMethod: 'notVerified' });
    expect(outcomeOf('true-speed-verified', facts)).toBe('fail');
  });
});
