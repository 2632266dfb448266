import fc from 'fast-check';
import { expect, it } from 'vitest';
import { readFindingNumbers } from '@/lib/protocol/stored';

const numbers = [
  { name: 'wind speed', value: 6.2, unit: 'm/s', limit: 5 },
  { name: 'runs', value: 3, unit: '' },
];

it('the numbers of a finding are read as they were written, and those that cannot be read are left out', () => {
  expect(readFindingNumbers(JSON.parse(JSON.stringify(numbers)))).toEqual(numbers);
  expect(readFindingNumbers([...numbers, { name: 'wind', value: '6', unit: 'm/s' }, null])).toEqual(numbers);
  expect(readFindingNumbers([{ name: 'wind', value: 6, unit: 'parsec', colour: 'grey' }])).toEqual([]);
  expect(readFindingNumbers({})).toEqual([]);
});

it('nothing that stands in the column makes their reader throw', () => {
  fc.assert(
    fc.property(fc.jsonValue(), fc.array(fc.jsonValue()), (one, many) => {
      for (const stored of [one, many]) {
        expect(readFindingNumbers(stored).every(({ value }) => Number.isFinite(value))).toBe(true);
      }
    }),
  );
});
