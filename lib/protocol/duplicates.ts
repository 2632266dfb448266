import type { RunQuantity } from '@/lib/run/fields/table';
import type { RunRecord } from '@/lib/run/runRecord';
import { millisecondsOf } from './instant';

/** What two records of one drive have in common, with the step below which a difference is only another unit. */
const FINGERPRINTED: readonly { quantity: RunQuantity; step: number }[] = [
  { quantity: 'tripDistance', step: 10 },
  { quantity: 'tripEnergy', step: 1 },
  { quantity: 'tripEfficiency', step: 0.1 },
  { quantity: 'tripDuration', step: 1 },
];

/**
 * The content of a run as a canonical text: car, start instant, distance, energy, consumption and time.
 * Two records with one fingerprint are the same drive sent twice, however they were typed: the instant is in UTC
 * and the readings in canonical units (10 m, 1 Wh, 0.1 Wh/km, 1 s). Setup, loop, weather and notes are left out,
 * so that a drive sent again under another setup is found.
 */
export function contentFingerprint(record: RunRecord): string {
  const startedAt = new Date(millisecondsOf(record.startedAt)).toISOString();
  const numbers = FINGERPRINTED.map(({ quantity, step }) => {
    const reading = record.readings[quantity];
    return `${quantity}=${reading === undefined ? '-' : Math.round(reading.value / step)}`;
  });
  return ['run-content-1', `car=${record.carId}`, `start=${startedAt}`, ...numbers].join(';');
}
