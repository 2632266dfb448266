import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { estimateParts } from '@/lib/answers/estimateParts';
import {
  drawnSentence,
  rangeSentence,
  savingSentence,
  shareWords,
  soonestSentence,
  tripSentence,
} from '@/lib/answers/estimateSentence';
import { DEFAULT_PREFERENCES, type Display } from '@/lib/units/display';

const plain = (text: string) => text.replaceAll(/[\u202F\u00A0]/g, ' ');
const display = DEFAULT_PREFERENCES;
const miles: Display = {
  ...display,
  distance: 'mi',
  consumption: 'mi/kWh',
  temperature: 'degF',
  mark: 'comma',
};
const names = { setup: 'Ride height: low', against: 'As delivered' };

describe('what an estimate says', () => {
  it('is a range with its interval, in the reader’s units', () => {
    const numbers = {
      setup: 'Roof and hitch items: Roof box 400 L',
      rangeM: { value: 287_400, low: 255_000, high: 322_000 },
      from: 0.8,
      to: 0.1,
      speedMps: 110 / 3.6,
      airC: 0,
    };
    expect(plain(rangeSentence(numbers, display))).toBe(
      '“Roof box 400 L” goes 287 km from 80 to 10 % of charge at a steady 110 km/h and 0 °C (255 to 322).',
    );
    expect(plain(rangeSentence(numbers, miles))).toBe(
      '“Roof box 400 L” goes 179 mi from 80 to 10 % of charge at a steady 68,35 mph and 32 °F (158 to 200).',
    );
  });

  it('is what it draws where nobody knows the battery, its ends turned with the unit', () => {
    const numbers = {
      setup: 'As delivered',
      whPerKm: { value: 200, low: 190, high: 211 },
      speedMps: 110 / 3.6,
      airC: -5,
    };
    expect(plain(drawnSentence(numbers, display))).toBe(
      'The car as delivered uses 20.0 kWh/100 km at a steady 110 km/h and −5 °C (19.0 to 21.1).',
    );
    expect(plain(drawnSentence(numbers, miles))).toMatch(/^The car as delivered goes .*\(2,94 to 3,27\)/);
  });

  it('counts the hours of a trip and its stops', () => {
    const trip = { lengthM: 300_000, totalS: { value: 12_240, low: 11_400, high: 13_560 }, chargingS: 1440 };
    expect(plain(tripSentence({ ...trip, stops: 1 }, display))).toBe(
      'A trip of 300 km takes 3:24 h (3:10 to 3:46), 0:24 h of it charging, at one charger.',
    );
    const known = { value: 9818, low: 9818, high: 9818 };
    expect(plain(tripSentence({ ...trip, totalS: known, stops: 0 }, display))).toBe(
      'A trip of 300 km takes 2:44 h, without a stop.',
    );
  });

  it('names the soonest speed, and the others that may be', () => {
    const best = { speed: '110 km/h', totalS: { value: 12_240, low: 11_880, high: 12_720 } };
    expect(soonestSentence(best, ['110 km/h', '110 km/h'])).toBe(
      '110 km/h gets there soonest of the speeds driven, in 3:24 h (3:18 to 3:32).',
    );
    expect(soonestSentence(best, ['90 km/h', '130 km/h'])).toContain('any from 90 km/h to 130 km/h');
  });
});

describe('what one setup saves another', () => {
  it('is said with its direction and ends', () => {
    expect(plain(savingSentence('rangeM', { value: 9100, low: 3200, high: 15_000 }, names, display))).toBe(
      '“Low ride height” goes 9 km further on this charge than the car as delivered (3 to 15).',
    );
    expect(plain(savingSentence('totalS', { value: -600, low: -900, high: -300 }, names, display))).toBe(
      '“Low ride height” takes 10.0 min less on this trip than the car as delivered (5.0 to 15.0).',
    );
    expect(plain(savingSentence('cost', { value: 1.2, low: 0.5, high: 1.9 }, names, display))).toBe(
      '“Low ride height” costs 1.2 more on this trip than the car as delivered (0.5 to 1.9).',
    );
  });

  it('is left open where the interval leaves it open', () => {
    expect(plain(savingSentence('rangeM', { value: 4000, low: -2000, high: 10_000 }, names, display))).toBe(
      '“Low ride height” and the car as delivered cannot be told apart on this charge: anything from 2 km less far to 10 km further.',
    );
  });

  it('claims a direction exactly where zero lies outside, and never says that a difference is nothing', () => {
    const end = fc.double({ min: -1e6, max: 1e6, noNaN: true });
    fc.assert(
      fc.property(fc.constantFrom('rangeM', 'totalS', 'cost'), end, end, (of, a, b) => {
        const [low, high] = [Math.min(a, b), Math.max(a, b)];
        fc.pre(high - low > 1e-3);
        const said = plain(savingSentence(of, { value: (low + high) / 2, low, high }, names, display));
        const isOpen = low <= 0 && high >= 0;
        expect(said.includes('cannot be told apart')).toBe(isOpen);
        if (isOpen) return;
        expect(/\b(further|more)\b/.test(said)).toBe(low > 0);
        expect(/\b(less)\b/.test(said)).toBe(high < 0);
      }),
    );
  });
});

describe('the parts of what an estimate may be off by', () => {
  const origins = { car: 'moderated', carLoop: 'none', session: 'own', residual: 'assumed' } as const;
  const parts = estimateParts(
    {
      parts: { fit: 4e-4, car: 1e-4, carLoop: 0, session: 2e-4, run: 5e-5, shared: 0, ofReader: 0 },
      inputs: [
        { key: 'dragAreaM2 of m at 0.9', variance: 1e-4 },
        { key: 'yawDragPerRad2 of method', variance: 2e-5 },
        { key: 'massKg of m', variance: 0 },
        { key: 'somethingNew of m', variance: 3e-5 },
      ],
    },
    origins,
    { variance: 9e-4, isMeasured: false },
  );

  it('are named, parted by what is measured and assumed, and add up', () => {
    expect(parts.map(({ key, basis }) => `${key} ${basis}`)).toEqual([
      'capacity assumed',
      'runs measured',
      'days measured',
      'air assumed',
      'cars partly',
      'trips assumed',
      'road assumed',
    ]);
    expect(parts.reduce((sum, { variance }) => sum + variance, 0)).toBeCloseTo(1.8e-3, 12);
    expect(parts.find(({ key }) => key === 'air')?.variance).toBeCloseTo(1.2e-4, 12);
  });

  it('are said in words that never grow as the part shrinks', () => {
    const said = Array.from({ length: 101 }, (_, i) => shareWords(1 - i / 100));
    expect(new Set(said).size).toBe(8);
    expect([said[0], said[50], said[100]]).toEqual(['nearly all of it', 'about half', 'next to nothing']);
  });
});
