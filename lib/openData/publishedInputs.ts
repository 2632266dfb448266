import { createHash } from 'node:crypto';
import type { ReductionSnapshot } from '@/lib/reduction/snapshot';
import { dateText, midnightUtc } from '@/lib/run/localDate';
import { firstOfMonth } from '@/lib/run/publishedDay';

/**
 * Inputs of a run of which no more than the month is published: as if it had been driven as its month began. What was
 * found on other days moves with it by whole days, so that all that the method asks of days, how old a calibration is,
 * stays as it was, and with it every number.
 */
export function asMonthBegan(snapshot: ReductionSnapshot): ReductionSnapshot {
  const { record, calibrations, recording } = snapshot;
  const day = midnightUtc(record.localDate);
  const first = firstOfMonth(day);
  const moved = (text: string) =>
    dateText(new Date(midnightUtc(text).getTime() + first.getTime() - day.getTime()));
  return {
    ...snapshot,
    record: {
      ...record,
      localDate: dateText(first),
      startedAt: new Date(first.getTime() - record.utcOffsetMin * 60_000).toISOString(),
    },
    calibrations: calibrations.map((one) => ({
      ...one,
      measuredOn: moved(one.measuredOn),
      invalidatedOn: one.invalidatedOn === null ? null : moved(one.invalidatedOn),
    })),
    recording: recording && { ...recording, traceId: withoutTime(recording.traceId) },
  };
}

/**
 * An identifier in place of one that holds the millisecond of its making (RFC 9562, version 7), always the same for the
 * same. The database makes it alike (`md5(…)::uuid`); what is random in the first keeps it from being tried out.
 */
export function withoutTime(id: string): string {
  return createHash('md5')
    .update(id)
    .digest('hex')
    .replace(/^(.{8})(.{4})(.{4})(.{4})(.{12})$/, '$1-$2-$3-$4-$5');
}
