import { describe, expect, it } from 'vitest';
import { contentFingerprint } from '@/lib/protocol/duplicates';
import type { RunQuantity } from '@/lib/run/fields/table';
import { GOOD_RUN, reading, withReading, withRecord } from './exampleFacts';

const good = GOOD_RUN.record;

describe('contentFingerprint', () => {
  it('is a plain text of what makes the drive', () => {
    expect(contentFingerprint(good)).toBe(
      'run-content-1;car=car-1;start=2031-05-04T07:30:00.000Z;tripDistance=10690;tripEnergy=22400;tripEfficiency=-;tripDuration=3720',
    );
  });

  it('does not see how the drive was typed', () => {
    const same = [
      withRecord({ startedAt: '2031-05-04T07:30:00Z', utcOffsetMin: 0 }),
      withReading('tripEnergy', reading('tripEnergy', '22400', 'Wh')),
      withReading('tripDuration', reading('tripDuration', '62', 'min')),
      withRecord({ notes: 'sent again', setupId: 'setup-2', loopId: 'loop-2', road: 'wet' }),
    ];
    for (const { record } of same) expect(contentFingerprint(record)).toBe(contentFingerprint(good));
  });

  it.each([
    ['tripDistance', '107.0', 'km'],
    ['tripEnergy', '22.5', 'kWh'],
    ['tripEfficiency', '21.0', 'kWh/100km'],
    ['tripDuration', '63', 'min'],
  ] as const)('sees another %s', (quantity, text, unit) => {
    const { record } = withReading(quantity, reading(quantity, text, unit));
    expect(contentFingerprint(record)).not.toBe(contentFingerprint(good));
  });

  it('sees another car, another start and a missing reading', () => {
    const others = [
      withRecord({ carId: 'car-2' }),
      withRecord({ startedAt: '2031-05-04T09:31:00+02:00' }),
      ...(['tripDistance', 'tripEnergy', 'tripDuration'] satisfies RunQuantity[]).map((quantity) =>
        withReading(quantity, undefined),
      ),
    ].map(({ record }) => contentFingerprint(record));
    expect(new Set([contentFingerprint(good), ...others]).size).toBe(others.length + 1);
  });
});
