import { describe, expect, it } from 'vitest';
import { shownReadings } from '@/lib/run/fields/shownReadings';
import { choiceLabel } from '@/lib/run/fields/table';

const reading = (changes: Partial<Parameters<typeof shownReadings>[0][number]>) => ({
  quantity: 'tripEnergy',
  moment: 'finish',
  instrument: 'carDisplay',
  enteredText: '32.9',
  enteredUnit: 'kWh',
  value: 32_900,
  low: 32_850,
  high: 32_950,
  ...changes,
});

describe('readings as shown', () => {
  it('follow the form’s order, whatever order they were stored in', () => {
    const shown = shownReadings([
      reading({}),
      reading({
        quantity: 'chargeStart',
        enteredUnit: '%',
        enteredText: '80',
        value: 0.8,
        low: 0.795,
        high: 0.805,
      }),
    ]);
    expect(shown.map((one) => [one.quantity, one.unit])).toEqual([
      ['chargeStart', '%'],
      ['tripEnergy', 'Wh'],
    ]);
    expect(shown[1]).toMatchObject({ enteredText: '32.9', enteredUnit: 'kWh', value: 32_900, low: 32_850 });
  });

  it('do not call hours and minutes minutes', () => {
    const [time] = shownReadings([
      reading({ quantity: 'tripDuration', enteredText: '0:46', enteredUnit: 'min', value: 2760 }),
    ]);
    expect(time?.enteredUnit).toBe('h:mm');
  });

  it('name choices in the words of the form, and keep a value that the form no longer has', () => {
    expect(choiceLabel('pressureKind', 'qnh')).toBe('Altimeter setting (QNH)');
    expect(choiceLabel('pressureKind', 'fromBefore')).toBe('fromBefore');
  });
});
