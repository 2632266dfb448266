import { describe, expect, it } from 'vitest';
import { loopsNear } from '@/lib/capture/trace/loopsNear';
import { offsetInZone } from '@/lib/capture/trace/recordedForm';
import { causewayDrive } from '@/test/helpers/recordings';
import { drive } from './syntheticDrive';

describe('the offset of a zone at an instant', () => {
  it('is that of its summer and its winter, of half hours and of a zone in UTC', () => {
    // IANA time zone database: CET/CEST, IST, NST/NDT; the last Sundays of March and October change the clocks in the EU
    const at = (iso: string, zone: string) => offsetInZone(Date.parse(iso), zone);
    expect(at('2026-03-29T00:59:59Z', 'Europe/Berlin')).toBe(60);
    expect(at('2026-03-29T01:00:00Z', 'Europe/Berlin')).toBe(120);
    expect(at('2026-10-25T01:00:00Z', 'Europe/Berlin')).toBe(60);
    expect(at('2026-07-01T12:00:31Z', 'Asia/Kolkata')).toBe(330);
    expect(at('2026-01-01T12:00:00Z', 'America/St_Johns')).toBe(-210);
    expect(at('2026-01-01T12:00:00Z', 'UTC')).toBe(0);
  });

  it('is not known of a zone that is none', () => {
    expect(offsetInZone(0, 'Nowhere/Town')).toBeUndefined();
    expect(offsetInZone(0, '')).toBeUndefined();
    expect(offsetInZone(0, undefined)).toBeUndefined();
  });
});

describe('the loops near a recording', () => {
  const { points } = drive(causewayDrive);
  const [start, turnaround] = [points[0], points[Math.floor(points.length / 2)]];
  if (start === undefined || turnaround === undefined) throw new Error('no points');
  const loop = { id: 'own', start, turnaround, outline: [start, turnaround], lengthM: 107_500 };
  const aside = (id: string, byDeg: number) => ({
    ...loop,
    id,
    start: { ...start, latitudeDeg: start.latitudeDeg + byDeg },
  });

  it('are those at whose start and turnaround it has been, the nearest first and a few only', () => {
    // 0.01° of latitude is about 1.1 km: on the way out, so it has been there as well
    expect(
      loopsNear(points, [aside('south', -0.05), aside('near', -0.008), loop]).map(({ id }) => id),
    ).toEqual(['own', 'near']);
    expect(
      loopsNear(
        points,
        Array.from({ length: 9 }, () => loop),
      ),
    ).toHaveLength(4);
    expect(loopsNear([], [loop])).toEqual([]);
  });
});
