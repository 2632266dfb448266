import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { QUANTITY_FIELDS } from '@/lib/run/fields/table';
import { parseRunForm, runFormSchema } from '@/lib/run/parseRunForm';
import type { RunForm } from '@/lib/run/runForm';
import { completeForm } from '@/test/helpers/runForms';

const NOW = '2026-11-01T12:00:00Z';

const issuePaths = (form: RunForm): string[] => {
  const parsed = parseRunForm(form, { now: NOW });
  return parsed.ok ? [] : parsed.issues.map((issue) => issue.path);
};

describe('a complete form', () => {
  const parsed = parseRunForm(completeForm(), { now: NOW });

  it('becomes a record in canonical units', () => {
    if (!parsed.ok) throw new Error(JSON.stringify(parsed.issues));
    const { readings } = parsed.record;
    // NIST SP 811: 1 mi = 1609.344 m exactly.
    expect(readings.tripDistance?.value).toBeCloseTo(66.8 * 1609.344, 6);
    expect(readings.tripEnergy?.value).toBeCloseTo(32_900, 6);
    // 1000/(2.03 × 1.609344) Wh/km; the interval of a reciprocal is turned round.
    expect(readings.tripEfficiency?.value).toBeCloseTo(1000 / (2.03 * 1.609344), 9);
    expect(readings.tripEfficiency?.low).toBeCloseTo(1000 / (2.035 * 1.609344), 9);
    expect(readings.chargeStart?.value).toBe(0.8);
    expect(readings.airPressure?.value).toBe(101_500);
  });

  it('has an instant and the date at the loop', () => {
    if (!parsed.ok) throw new Error('not parsed');
    expect(parsed.record.startedAt).toBe('2026-05-14T08:30:00.000Z');
    expect(parsed.record.localDate).toBe('2026-05-14');
  });
});

describe('impossible and contradictory readings are refused beside their field', () => {
  it.each<[string, RunForm, string]>([
    ['end charge above start', { chargeStart: '50', chargeEnd: '80' }, 'chargeEnd'],
    ['zero distance', { tripDistance: '0' }, 'tripDistance'],
    ['average above cruise', { tripMeanSpeed: '84' }, 'tripMeanSpeed'],
    ['time too short for the cruise speed', { tripDuration: '41', tripMeanSpeed: '' }, 'tripDuration'],
    ['not a number', { tripEnergy: 'NaN' }, 'tripEnergy'],
    ['beyond any number', { tripEnergy: '1e309' }, 'tripEnergy'],
    ['infinity', { tripDistance: 'Infinity' }, 'tripDistance'],
    ['negative', { tripEnergy: '-32.9' }, 'tripEnergy'],
    ['kWh for Wh', { tripEnergy: '32900' }, 'tripEnergy'],
    ['Wh for kWh', { tripEnergy: '32.9', tripEnergyUnit: 'Wh' }, 'tripEnergy'],
    ['a date in the future', { startedAtLocal: '2027-01-01T09:30' }, 'startedAtLocal'],
    ['a date that is none', { startedAtLocal: '2026-02-31T09:30' }, 'startedAtLocal'],
    ['a unit that is none', { tripEnergyUnit: 'J' }, 'tripEnergyUnit'],
    ['a forged choice', { climate: 'arctic' }, 'climate'],
    ['a forged id', { carId: "1' OR '1'='1" }, 'carId'],
    ['turnaround beyond the finish', { outboundDistance: '70' }, 'outboundDistance'],
    ['odometer running backwards', { odometerStart: '12 400', odometerEnd: '12 300' }, 'odometerEnd'],
    ['dew point above the air', { relativeHumidity: '', dewPoint: '25' }, 'dewPoint'],
    ['gusts below the mean', { windGust: '1' }, 'windGust'],
    ['wind without direction', { windFrom: '' }, 'windFrom'],
    ['a direction that is not known and given', { windDirectionKnown: 'no' }, 'windDirectionKnown'],
    ['pressure without kind', { pressureKind: 'altitudeOnly' }, 'pressureKind'],
    ['kind without pressure', { airPressure: '' }, 'airPressure'],
    ['charger energy without charger', { chargerEnergy: '35.8' }, 'chargerKind'],
    ['no energy at all', { tripEnergy: '', tripEfficiency: '' }, 'tripEnergy'],
  ])('%s', (_name, changes, path) => {
    expect(issuePaths(completeForm(changes))).toContain(path);
  });

  it('suggests the unit that would make sense of the number', () => {
    const parsed = parseRunForm(completeForm({ tripEnergy: '32900' }), { now: NOW });
    const issue = parsed.ok ? undefined : parsed.issues.find((candidate) => candidate.path === 'tripEnergy');
    expect(issue?.fix).toContain('Wh');
  });

  it('says what, why and what to do for every issue', () => {
    const parsed = parseRunForm({}, { now: NOW });
    expect(parsed.ok).toBe(false);
    if (parsed.ok) return;
    expect(parsed.issues.length).toBeGreaterThan(10);
    for (const issue of parsed.issues) {
      expect(issue.what.length).toBeGreaterThan(5);
      expect(issue.why.length).toBeGreaterThan(5);
      expect(issue.fix.length).toBeGreaterThan(5);
    }
  });

  it('accepts a normal speedometer error: 71 shown at a true 70 (common practice, no source)', () => {
    expect(issuePaths(completeForm({ trueSpeed: '70', indicatedSpeed: '71' }))).toEqual([]);
  });
});

describe('whatever is posted', () => {
  const fieldNames = [...Object.keys(completeForm()), ...QUANTITY_FIELDS.map((field) => field.name)];

  it('is parsed without throwing, and a record holds only finite numbers in order', () => {
    fc.assert(
      fc.property(fc.dictionary(fc.constantFrom(...fieldNames), fc.string({ maxLength: 12 })), (changes) => {
        const parsed = parseRunForm(completeForm(changes), { now: NOW });
        if (!parsed.ok) {
          expect(parsed.issues.length).toBeGreaterThan(0);
          return;
        }
        for (const reading of Object.values(parsed.record.readings)) {
          expect(Number.isFinite(reading.value)).toBe(true);
          expect(reading.low).toBeLessThanOrEqual(reading.value);
          expect(reading.value).toBeLessThanOrEqual(reading.high);
        }
      }),
      { numRuns: 500 },
    );
  });

  it('is bounded in size at the edge', () => {
    expect(runFormSchema.safeParse({ notes: 'x'.repeat(5000) }).success).toBe(false);
    expect(
      runFormSchema.safeParse(Object.fromEntries(Array.from({ length: 201 }, (_, i) => [`f${i}`, ''])))
        .success,
    ).toBe(false);
  });
});
