import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { inputRow } from '@/lib/openData/inputRows';
import { asMonthBegan, withoutTime } from '@/lib/openData/publishedInputs';
import { reduceRun } from '@/lib/reduction/reduceRun';
import { calibrationOf, ENGINE, snapshotOf } from '@/test/lib/reduction/exampleSnapshot';

/** Of 14 May 2026, 09:00 or so; with a calibration that wears by the days since. */
const snapshot = snapshotOf({
  form: { trueSpeedMethod: 'calibratedSpeedometer' },
  calibrations: [
    calibrationOf({ measuredOn: '2026-05-02' }),
    calibrationOf({
      instrument: 'odometer',
      factor: 1.01,
      measuredOn: '2026-03-30',
      invalidatedOn: '2026-05-13',
    }),
  ],
});

describe('inputs of which no more than the month is published', () => {
  it('are those of a run as its month began, with no other day of it in them', () => {
    const moved = asMonthBegan(snapshot);
    expect(moved.record.localDate).toBe('2026-05-01');
    expect(Date.parse(moved.record.startedAt)).toBe(
      Date.parse('2026-05-01T00:00:00Z') - moved.record.utcOffsetMin * 60_000,
    );
    expect(moved.calibrations.map(({ measuredOn }) => measuredOn)).toEqual(['2026-04-19', '2026-03-17']);
    expect(moved.calibrations[1]?.invalidatedOn).toBe('2026-04-30');
    const said = JSON.stringify(inputRow(1, moved, ''));
    expect(said).not.toContain('05-14');
    expect(said).not.toContain(snapshot.record.startedAt.slice(11, 16));
  });

  it('come to the same numbers, to the last digit', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 500 }),
        fc.option(fc.integer({ min: -40, max: 400 })),
        (age, ended) => {
          const dayBefore = (days: number) =>
            new Date(Date.UTC(2026, 4, 14) - days * 86_400_000).toISOString().slice(0, 10);
          const calibrations = ['speedometer', 'odometer'].map((instrument) =>
            calibrationOf({
              instrument,
              measuredOn: dayBefore(age),
              invalidatedOn: ended === null ? null : dayBefore(ended),
            }),
          );
          const one = { ...snapshot, calibrations };
          const { checks, reduction } = reduceRun(one, ENGINE);
          expect(reduceRun(asMonthBegan(one), ENGINE)).toMatchObject({ checks, reduction });
        },
      ),
      { numRuns: 25 },
    );
  });
});

it('names a thing anew, always alike and without the time in it', () => {
  const id = '019ac0de-1234-7abc-8def-0123456789ab';
  expect(withoutTime(id)).toBe(withoutTime(id));
  expect(withoutTime(id)).toMatch(/^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/);
  expect(withoutTime(id).slice(0, 13)).not.toBe(id.slice(0, 13));
});
