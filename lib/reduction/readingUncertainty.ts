import type { QuantityReading } from '@/lib/run/runRecord';

/** Of the rounding interval of a display, as a rectangular distribution (JCGM 100:2008, 4.3.7). */
export function rectangularU(reading: QuantityReading | undefined): number {
  return reading === undefined ? 0 : (reading.high - reading.low) / Math.sqrt(12);
}
