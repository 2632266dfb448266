import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type AskedOf, askablePairs, likeness, setupsFor } from '@/lib/study/askable';
import type { StudiedSetup } from '@/lib/study/oneFactor';
import {
  REQUEST_EVENTS,
  REQUEST_STATES,
  requestStateAfter,
  requestStateBefore,
} from '@/lib/study/requestState';

const level = (factor: string, key: string, isBaseline = false) => ({ factor, key, label: key, isBaseline });
const LEVELS = [
  level('rideHeight', 'low'),
  level('rideHeight', 'normal', true),
  level('driveMode', 'normal', true),
  level('driveMode', 'eco'),
];
const stand = (factor: string, key: string, isAsDelivered: boolean) => ({
  factor,
  factorLabel: factor,
  key,
  label: key,
  isAsDelivered,
});
const setup = (id: string, ride: string, mode: string): StudiedSetup => ({
  id,
  title: id,
  levels: [stand('driveMode', mode, mode === 'normal'), stand('rideHeight', ride, ride === 'normal')],
});
const SETUPS = [
  setup('both', 'low', 'eco'),
  setup('low', 'low', 'normal'),
  setup('base', 'normal', 'normal'),
];

describe('what can be asked of a model', () => {
  const pairs = askablePairs(LEVELS, SETUPS);

  it('is each pair of levels of a factor, and each pair of setups that moves one factor', () => {
    expect(pairs.map(({ value }) => value)).toEqual([
      'levels rideHeight normal low',
      'levels driveMode normal eco',
      'setups low both',
      'setups base low',
    ]);
    expect(pairs.find(({ value }) => value === 'setups base low')).toMatchObject({
      factor: 'rideHeight',
      fromKey: 'normal',
      toKey: 'low',
    });
  });

  it('begins a plan with setups of these levels that are as delivered otherwise, where there are such', () => {
    const [ride, mode] = pairs;
    expect(setupsFor(ride as never, SETUPS)).toEqual({ baselineId: 'base', setupId: 'low' });
    expect(setupsFor(mode as never, SETUPS)).toBeUndefined();
    expect(
      setupsFor({ ...(mode as never as AskedOf), setups: { baselineId: 'x', setupId: 'y' } }, []),
    ).toEqual({
      baselineId: 'x',
      setupId: 'y',
    });
  });
});

describe('how near two requests are', () => {
  const asked = fc.record({
    modelId: fc.constantFrom('one', 'two'),
    cruiseClassKey: fc.constantFrom('kmh-90', 'kmh-110'),
    factor: fc.constantFrom('rideHeight', 'driveMode'),
    fromKey: fc.constantFrom('a', 'b'),
    toKey: fc.constantFrom('c', 'd'),
    setups: fc.option(
      fc.record({ baselineId: fc.constantFrom('p', 'q'), setupId: fc.constantFrom('r', 's') }),
      { nil: null },
    ),
  });
  const turned = (one: AskedOf): AskedOf => ({
    ...one,
    fromKey: one.toKey,
    toKey: one.fromKey,
    setups: one.setups && { baselineId: one.setups.setupId, setupId: one.setups.baselineId },
  });

  it('is the same both ways round, and does not hang on which level was named first', () => {
    fc.assert(
      fc.property(asked, asked, (one, other) => {
        expect(likeness(one, other)).toBe(likeness(other, one));
        expect(likeness(one, turned(other))).toBe(likeness(one, other));
        expect(likeness(one, turned(one))).toBe('same');
      }),
    );
  });

  it('is alike within a factor of a model, and nothing across', () => {
    const one: AskedOf = {
      modelId: 'one',
      cruiseClassKey: 'kmh-110',
      factor: 'rideHeight',
      fromKey: 'a',
      toKey: 'b',
      setups: null,
    };
    expect(likeness(one, { ...one, cruiseClassKey: 'kmh-90' })).toBe('alike');
    expect(likeness(one, { ...one, toKey: 'c' })).toBe('alike');
    expect(likeness(one, { ...one, setups: { baselineId: 'x', setupId: 'y' } })).toBe('alike');
    expect(likeness(one, { ...one, factor: 'driveMode' })).toBeUndefined();
    expect(likeness(one, { ...one, modelId: 'two' })).toBeUndefined();
  });
});

describe('the states of a request', () => {
  it('have these ways and no other', () => {
    const ways = REQUEST_STATES.flatMap((state) =>
      REQUEST_EVENTS.flatMap((event) => {
        const to = requestStateAfter(state, event);
        return to === undefined ? [] : [`${state} ${event} ${to}`];
      }),
    );
    expect(ways).toEqual([
      'open begin taken',
      'open close closed',
      'taken complete answered',
      'taken abandon open',
    ]);
    for (const event of REQUEST_EVENTS)
      expect(requestStateAfter(requestStateBefore(event), event)).toBeDefined();
  });
});
