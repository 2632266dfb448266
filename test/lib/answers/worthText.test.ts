import { describe, expect, it } from 'vitest';
import { type WorthNumbers, worthText } from '@/lib/answers/worthText';
import { DEFAULT_PREFERENCES } from '@/lib/units/display';

const WORTH: WorthNumbers = {
  percent: -1.4,
  pointwise: [-4.0, 1.0],
  ofModel: [-5.0, 2.0],
  simultaneous: [-6.0, 3.0],
  word: 'undecided',
  restsOnOne: false,
  connection: '',
  refusal: null,
  isAssumed: false,
  moreSessions: 9,
  detectablePercent: 3,
  day: 'A B B A',
  hours: 3.94,
  isChargingKnown: true,
  anyCar: true,
  baseline: { title: 'As delivered' },
  setup: { title: 'Ride height: low' },
  loop: { name: 'Forest' },
  halfWidthPercent: 2.5,
  halfWidthAfterPercent: 1.84,
};

describe('a day worth driving in words', () => {
  it('says what to drive, what it would do and what is known', () => {
    const { todo, gain, now } = worthText(WORTH, DEFAULT_PREFERENCES);
    expect(todo).toBe(
      'Drive two runs each of “Low ride height” and the car as delivered in one day, there and back (A B B A, A being the car as delivered), in any car of the model, on Forest: about 3.9 hours with charging.',
    );
    expect(gain).toBe(
      'How “Low ride height” differs from the car as delivered is now known to ±2.5 %; such a day would bring that to about ±1.8 %.',
    );
    expect(now.word).toBe('undecided');
    expect(now.next).toContain('about 9 more sessions');
  });

  it('says of a single run which setup, and that charging comes on top where it is not known', () => {
    const { todo } = worthText(
      { ...WORTH, day: 'B', hours: 12.4, isChargingKnown: false, anyCar: false },
      DEFAULT_PREFERENCES,
    );
    expect(todo).toBe(
      'Drive one run of “Low ride height”, in a car of the model that has been driven here before, on Forest: about 12 hours, charging apart.',
    );
  });
});
