import { describe, expect, it } from 'vitest';
import { quantityOf, typedReadings } from '@/lib/capture/formReadings';
import { readTyped } from '@/lib/capture/misread';
import { readingNames } from '@/lib/capture/readings';
import { displayReadings } from '@/lib/reduction/displayReadings';
import { QUANTITY_FIELDS } from '@/lib/run/fields/table';
import { parseRunForm } from '@/lib/run/parseRunForm';
import type { RunForm } from '@/lib/run/runForm';

const form: RunForm = {
  trueSpeed: '109.6',
  chargeStart: '80',
  odometerStart: '10200',
  outboundDistance: '26.3',
  outboundEnergy: '8.0',
  outboundDuration: '14:10',
  outboundDurationUnit: 'h',
  tripDistance: '32.9',
  tripDistanceUnit: 'mi',
  tripEnergy: '15.2',
  tripEfficiency: '2.15',
  tripEfficiencyUnit: 'mi/kWh',
  tripDuration: '29',
  tripMeanSpeed: '109',
  chargeEnd: '69',
  odometerEnd: '10253',
  chargerEnergy: '16.9',
};

describe('readings of a form in hand', () => {
  it('name every reading but those that do not come from the form', () => {
    const typed = typedReadings(form);
    const absent = readingNames.filter((name) => typed[name] === undefined);
    expect(absent).toEqual(['chargeTurnaround', 'usableCapacityWh', 'outboundConsumptionWhPerKm']);
    for (const name of readingNames) {
      if (typed[name] !== undefined) expect(typed[name].text).toBe(form[quantityOf(name) ?? '']);
    }
  });

  it('mean the same numbers while typing as after submission', () => {
    const complete: RunForm = {
      ...form,
      outboundDuration: '0:14',
      carId: '0191d5b0-0000-7000-8000-000000000001',
      setupId: '0191d5b0-0000-7000-8000-000000000002',
      loopId: '0191d5b0-0000-7000-8000-000000000003',
      cruiseClassKey: 'kmh-110',
      startedAtLocal: '2026-11-20T10:30',
      utcOffsetMin: '60',
      trueSpeedMethod: 'positioning',
      climate: 'mild',
      chargerKind: 'dc',
      pressureKind: 'altitudeOnly',
      precipitation: 'none',
      road: 'dry',
      traffic: 'free',
      closeFollowing: 'none',
      conditionsSource: 'stationReport',
      airTemperature: '9',
      windSpeed: '0',
    };
    const parsed = parseRunForm(complete, { now: '2026-11-21T00:00:00.000Z' });
    if (!parsed.ok) throw new Error(parsed.issues.map((issue) => issue.what).join(' '));
    const submitted = displayReadings(parsed.record.readings, undefined);
    const { readings, refused } = readTyped(typedReadings(complete));
    expect(refused).toEqual([]);
    for (const name of readingNames) expect(readings[name]).toEqual(submitted[name]);
  });

  it('leave out what is empty or in a unit that the field does not have', () => {
    expect(typedReadings({ tripDistance: ' ', tripEnergy: '15', tripEnergyUnit: 'km' })).toEqual({});
  });

  it('read odometers as cut off, not rounded', () => {
    expect(QUANTITY_FIELDS.find((field) => field.name === 'odometerStart')?.rounding).toBe('down');
    expect(typedReadings({ odometerStart: '10200' }).odometerStartM?.rounding).toBe('down');
  });
});
