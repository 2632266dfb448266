import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseInstant } from '@/lib/capture/trace/instant';

describe('parseInstant', () => {
  // XSD 1.1 part 2, 3.3.7: noon in New York on 10 October 2002 is 17:00 UTC.
  it('reads the example of XML Schema with its offset', () => {
    expect(parseInstant('2002-10-10T12:00:00-05:00')?.timeMs).toBe(
      parseInstant('2002-10-10T17:00:00Z')?.timeMs,
    );
  });

  it('agrees with the platform on every real instant', () => {
    fc.assert(
      fc.property(
        fc.date({ min: new Date('1990-01-01'), max: new Date('2099-12-31'), noInvalidDate: true }),
        (date) => {
          expect(parseInstant(date.toISOString())).toEqual({ timeMs: date.getTime(), hasZone: true });
        },
      ),
    );
  });

  it.each([
    '2026-02-29T00:00:00Z',
    '2026-13-01T00:00:00Z',
    '2026-04-31T00:00:00Z',
    '2026-05-01T24:30:00Z',
    '2026-05-01',
    '1/5/2026 10:00',
    '2026-05-01T10:00:00+15:00',
    '',
  ])('refuses "%s" instead of rolling it over', (text) => {
    expect(parseInstant(text)).toBeNull();
  });

  it('says when no zone was named', () => {
    expect(parseInstant('2026-05-01 10:00:00.5')).toEqual({
      timeMs: Date.UTC(2026, 4, 1, 10) + 500,
      hasZone: false,
    });
  });
});
