import { describe, expect, it } from 'vitest';
import { hasSpeedometerCalibration } from '@/lib/reduction/carCalibrations';
import { runSpeed } from '@/lib/reduction/runSpeed';
import { calibrationOf, recordOf } from './exampleSnapshot';

const MPH = 1609.344 / 3600;
const byCalibration = { trueSpeedMethod: 'calibratedSpeedometer', indicatedSpeed: '71', trueSpeed: '69.6' };

describe('the cruise speed of a run', () => {
  it('is the shown one times the calibration’s ratio, with the uncertainty of both', () => {
    // Calibrated this very day: no wear. 71 mph × 0.98; u² = (0.5/√3 mph × 0.98)² + (71 mph × 0.002)², JCGM 100 5.1.2.
    const calibration = calibrationOf({ measuredOn: '2026-05-14' });
    const speed = runSpeed(recordOf(byCalibration), [calibration]);
    expect(speed.source).toBe('calibratedSpeedometer');
    expect(speed.cruiseSpeedMps).toBeCloseTo(69.58 * MPH, 10);
    const expectedU = Math.sqrt(((0.5 / Math.sqrt(3)) * 0.98) ** 2 + (71 * 0.002) ** 2) * MPH;
    expect(speed.uMps).toBeCloseTo(expectedU, 10);
    expect(speed.crossCheck).toMatchObject({ agrees: true });
  });

  it('wears with the tyres: by the distance driven, or by the days where no odometer was read', () => {
    const fresh = calibrationOf({ odometerM: 20_000_000 });
    const use = { ...byCalibration, odometerStart: '28000', odometerStartUnit: 'km' };
    const worn = runSpeed(recordOf(use), [fresh]);
    // 8000 km at half of 1.8 % per 40 000 km: the ratio falls by 0.18 %
    expect(worn.cruiseSpeedMps / (71 * MPH * 0.98)).toBeCloseTo(1 - 0.0018, 10);
    const unread = runSpeed(recordOf(byCalibration), [fresh]);
    // 74 days of a year in which 15 000 km are assumed
    const assumedKm = (74 / 365) * 15_000;
    expect(unread.cruiseSpeedMps / (71 * MPH * 0.98)).toBeCloseTo(1 - (0.009 * assumedKm) / 40_000, 10);
  });

  it('is the stated one when the calibration has ended, aged or worn out, and says why', () => {
    const cases = [
      [{ invalidatedOn: '2026-05-14' }, /tyres are not those/],
      [{ measuredOn: '2025-05-13' }, /366 days old/],
      [{ odometerM: 1_000_000 }, /since the calibration/],
    ] as const;
    const use = { ...byCalibration, odometerStart: '28000', odometerStartUnit: 'km' };
    for (const [changes, why] of cases) {
      const calibrations = [calibrationOf(changes)];
      const speed = runSpeed(recordOf(use), calibrations);
      expect(speed.source).toBe('stated');
      expect(speed.cruiseSpeedMps).toBeCloseTo(69.6 * MPH, 10);
      expect(speed.refusal).toMatch(why);
      expect(hasSpeedometerCalibration(calibrations, recordOf(use))).toBe(false);
    }
    // changed tyres a day later, or calibrated after the run: the first still holds, the second does not yet
    const later = calibrationOf({ invalidatedOn: '2026-05-15' });
    expect(runSpeed(recordOf(use), [later]).source).toBe('calibratedSpeedometer');
    const after = calibrationOf({ measuredOn: '2026-05-15' });
    expect(runSpeed(recordOf(use), [after])).toMatchObject({ source: 'stated', refusal: null });
  });

  it('takes the newest calibration that holds, and only of the speedometer', () => {
    const calibrations = [
      calibrationOf({ factor: 0.97, measuredOn: '2026-01-01' }),
      calibrationOf({ factor: 0.98, measuredOn: '2026-05-14' }),
      calibrationOf({
        factor: 0.9,
        measuredOn: '2026-05-14',
        invalidatedOn: '2026-05-14',
      }),
      calibrationOf({
        factor: 0.8,
        instrument: 'odometer',
        measuredOn: '2026-05-14',
      }),
    ];
    expect(runSpeed(recordOf(byCalibration), calibrations).cruiseSpeedMps).toBeCloseTo(71 * MPH * 0.98, 10);
  });

  it('checks a stated speed against the calibration: a contradiction widens the uncertainty by all of it', () => {
    const calibrations = [calibrationOf({ measuredOn: '2026-05-14' })];
    const speed = runSpeed(recordOf({ ...byCalibration, trueSpeed: '72.0' }), calibrations);
    expect(speed.crossCheck?.agrees).toBe(false);
    expect(speed.uMps).toBeGreaterThan((72 - 69.58) * MPH);
    // by satellite positioning the stated speed stands, beside the check
    const positioned = runSpeed(recordOf({ trueSpeed: '69.6', indicatedSpeed: '71' }), calibrations);
    expect(positioned).toMatchObject({ source: 'stated', crossCheck: { agrees: true } });
    expect(positioned.cruiseSpeedMps).toBeCloseTo(69.6 * MPH, 10);
    expect(runSpeed(recordOf({ trueSpeed: '66.0' }), calibrations).crossCheck?.agrees).toBe(false);
  });

  it('without a calibration is the stated one, less sure the less it was verified', () => {
    const u = (trueSpeedMethod: string) => runSpeed(recordOf({ trueSpeedMethod }), []).uMps;
    expect(u('positioning')).toBeLessThan(u('calibratedSpeedometer'));
    expect(u('calibratedSpeedometer')).toBeLessThan(u('notVerified'));
  });
});
