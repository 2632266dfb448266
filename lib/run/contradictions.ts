import type { InputIssue } from './errors';
import type { Readings } from './runRecord';

/**
 * Readings that cannot both be true whatever was rounded. They are refused at the form, beside the field;
 * readings that merely disagree within reach of a misread digit become findings instead (`consistency.ts`).
 */
export function contradictions(readings: Readings): InputIssue[] {
  const issues: InputIssue[] = [];
  const { chargeStart, chargeEnd, tripDistance, tripDuration, tripMeanSpeed, trueSpeed } = readings;
  if (chargeStart && chargeEnd && chargeEnd.low >= chargeStart.high) {
    issues.push({
      path: 'chargeEnd',
      what: `Charge at finish (${chargeEnd.enteredText} %) is above charge at start (${chargeStart.enteredText} %).`,
      why: 'A closed loop cannot fill the battery.',
      fix: 'Check both numbers; perhaps they were swapped, or the finish was read after charging.',
    });
  }
  if (tripDistance && tripDistance.value <= 0) {
    issues.push({
      path: 'tripDistance',
      what: 'The distance is zero.',
      why: 'Consumption is energy over distance.',
      fix: 'Enter the trip distance of the whole loop.',
    });
  }
  if (tripMeanSpeed && trueSpeed && tripMeanSpeed.low > trueSpeed.high * MEAN_OVER_CRUISE) {
    issues.push({
      path: 'tripMeanSpeed',
      what: `Average speed (${tripMeanSpeed.enteredText}) is above the cruise speed (${trueSpeed.enteredText}).`,
      why: 'A mean over a loop with ramps and a turnaround lies below the speed held.',
      fix: 'Check both numbers and their units (km/h or mph).',
    });
  }
  if (tripDistance && tripDuration && trueSpeed && tripDuration.high > 0) {
    const leastMeanMps = tripDistance.low / tripDuration.high;
    if (leastMeanMps > trueSpeed.high * MEAN_OVER_CRUISE) {
      issues.push({
        path: 'tripDuration',
        what: 'Distance and time give a mean above the cruise speed.',
        why: 'A mean over a loop with ramps and a turnaround lies below the speed held.',
        fix: 'Check the time (minutes, or h:mm), the distance and its unit.',
      });
    }
  }
  for (const [outbound, whole, label] of [
    [readings.outboundDistance, tripDistance, 'Distance'],
    [readings.outboundEnergy, readings.tripEnergy, 'Energy'],
    [readings.outboundDuration, tripDuration, 'Time'],
  ] as const) {
    if (outbound && whole && outbound.low >= whole.high) {
      issues.push({
        path: outbound.quantity,
        what: `${label} at turnaround is not below the total.`,
        why: 'The way back is part of the total.',
        fix: 'Check both numbers and their units.',
      });
    }
  }
  const { odometerStart, odometerEnd } = readings;
  if (odometerStart && odometerEnd && odometerEnd.high <= odometerStart.low) {
    issues.push({
      path: 'odometerEnd',
      what: 'The odometer at finish is not above the one at start.',
      why: 'An odometer only counts up.',
      fix: 'Check both numbers; perhaps they were swapped.',
    });
  }
  const { airTemperature, dewPoint } = readings;
  if (airTemperature && dewPoint && dewPoint.low > airTemperature.high) {
    issues.push({
      path: 'dewPoint',
      what: 'The dew point is above the air temperature.',
      why: 'Air cannot hold more water than saturation.',
      fix: 'Check both; perhaps they were swapped.',
    });
  }
  const { windSpeed, windGust } = readings;
  if (windSpeed && windGust && windGust.high < windSpeed.low) {
    issues.push({
      path: 'windGust',
      what: 'Gusts are below the mean wind.',
      why: 'A gust is a peak of the same wind.',
      fix: 'Check both numbers and their units.',
    });
  }
  return issues;
}

/** Car displays round and lag: a mean up to 2 % above the stated cruise is left to the protocol's rules. */
const MEAN_OVER_CRUISE = 1.02;
