import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compareRetyped, photoThatShows, readingsOnPhotos } from '@/lib/capture/blindEntry';
import { quantityField, type RunQuantity } from '@/lib/run/fields/table';

const typed = (quantity: RunQuantity, enteredText: string, enteredUnit: string, value: number) => ({
  quantity,
  enteredText,
  enteredUnit,
  value,
});
const energy = typed('tripEnergy', '32.9', 'kWh', 32_900);
const agrees = (text: string, reading = energy) =>
  compareRetyped(text, quantityField(reading.quantity as RunQuantity), reading);

describe('a reading typed a second time', () => {
  it.each([
    ['32.9', true],
    ['32,9', true],
    ['32.90', true],
    [' 32.9 ', true],
    ['23.9', false],
    ['32.8', false],
    ['329', false],
  ])('%s beside 32.9 kWh', (text, same) => {
    expect(agrees(text)).toEqual({ ok: true, agrees: same });
  });

  it('is read in the unit of the first, a time as a time', () => {
    expect(agrees('0:58', typed('tripDuration', '58', 'min', 3480))).toEqual({ ok: true, agrees: true });
    expect(agrees('66.8', typed('tripDistance', '66.8', 'mi', 66.8 * 1609.344))).toEqual({
      ok: true,
      agrees: true,
    });
  });

  it.each(['', '  ', 'about 33', '3 3', '99999999'])('“%s” is refused beside its field', (text) => {
    const compared = agrees(text);
    expect(compared.ok).toBe(false);
    if (!compared.ok) expect(compared.issue.path).toBe('tripEnergy');
  });

  it('agrees with itself, and with no other digits', () => {
    fc.assert(
      fc.property(fc.integer({ min: 10, max: 999 }), fc.integer({ min: 10, max: 999 }), (a, b) => {
        const text = (tenths: number) => (tenths / 10).toFixed(1);
        expect(agrees(text(a), typed('tripEnergy', text(b), 'kWh', b * 100))).toEqual({
          ok: true,
          agrees: a === b,
        });
      }),
    );
  });
});

describe('the photo that shows a reading', () => {
  it.each([
    ['odometerStart', 'startDisplay'],
    ['outboundEnergy', 'turnaroundDisplay'],
    ['tripEnergy', 'finishDisplay'],
    ['chargerEnergy', 'charger'],
    ['windSpeed', 'weather'],
    ['pressureFront', undefined],
    ['loadMass', undefined],
    ['trueSpeed', undefined],
  ] as const)('%s: %s', (quantity, kind) => {
    expect(photoThatShows(quantityField(quantity))).toBe(kind);
  });

  it('leaves out readings whose photo was not sent', () => {
    const readings = [energy, typed('odometerStart', '1200', 'km', 1.2e6)];
    const shown = (...kinds: string[]) =>
      readingsOnPhotos(
        readings,
        kinds.map((kind) => ({ kind, marks: [] })),
      ).map(({ field }) => field.name);
    expect(shown('startDisplay', 'finishDisplay')).toEqual(['odometerStart', 'tripEnergy']);
    expect(shown('finishDisplay', 'other')).toEqual(['tripEnergy']);
    expect(shown()).toEqual([]);
  });

  it('is the one on which its tester marked it, of whatever kind', () => {
    const readings = [energy, typed('pressureFront', '2.9', 'bar', 2.9e5)];
    const mark = (field: RunQuantity) => ({ field, left: 0.1, top: 0.1, width: 0.2, height: 0.2 });
    const photos = [
      { kind: 'finishDisplay', marks: [] },
      { kind: 'other', marks: [mark('tripEnergy'), mark('pressureFront'), mark('tripDistance')] },
    ];
    expect(readingsOnPhotos(readings, photos).map(({ field, photoKind }) => [field.name, photoKind])).toEqual(
      expect.arrayContaining([
        ['tripEnergy', 'other'],
        ['pressureFront', 'other'],
      ]),
    );
    expect(readingsOnPhotos(readings, photos)).toHaveLength(2);
  });
});
