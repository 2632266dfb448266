import { describe, expect, it } from 'vitest';
import { readSnapshot } from '@/lib/reduction/stored';
import { type KnownSubjects, takeSnapshot } from '@/lib/reduction/takeSnapshot';
import { recordOf, snapshotOf } from './exampleSnapshot';

const { car, model, loop, cruiseClass } = snapshotOf();
const { coastDown: _, ...ownValues } = car;
const { deliveredTyreKind: __, ...modelValues } = model;

const subjects = (changes: Partial<KnownSubjects['car']> = {}): KnownSubjects => ({
  car: {
    ...ownValues,
    coastDownF0N: null,
    coastDownF1NPerKmh: null,
    coastDownF2NPerKmh2: null,
    model: { ...modelValues, levels: [{ tyreKind: 'allTerrain' }] },
    calibrations: [],
    ...changes,
  },
  setup: {
    id: 'setup',
    levels: [{ factor: 'rideHeight', level: { id: 'low', isBaseline: false, tyreKind: null } }],
  },
  loop,
  cruiseClass,
});

describe('a snapshot of what a run is made from', () => {
  it('is what its own reader reads, and names tyres, levels and days', () => {
    const calibration = {
      instrument: 'speedometer',
      factor: 0.98,
      standardUncertainty: 0.002,
      measuredOn: new Date('2026-03-01T00:00:00Z'),
      odometerM: null,
      invalidatedOn: new Date('2026-05-20T00:00:00Z'),
    };
    const taken = takeSnapshot(recordOf(), subjects({ calibrations: [calibration] }), undefined, undefined);
    expect(readSnapshot(JSON.parse(JSON.stringify(taken)))).toEqual({ ok: true, snapshot: taken });
    expect(taken.model.deliveredTyreKind).toBe('allTerrain');
    expect(taken.setup.levels).toEqual([
      { factor: 'rideHeight', levelId: 'low', isBaseline: false, tyreKind: null },
    ]);
    expect(taken.calibrations).toMatchObject([{ measuredOn: '2026-03-01', invalidatedOn: '2026-05-20' }]);
    expect(taken).toMatchObject({ version: 2, recording: null, loop: { driving: null } });
  });

  it('holds nothing of the record that was written freely', () => {
    const taken = takeSnapshot(recordOf({ notes: 'Ask at number 7.' }), subjects(), undefined, undefined);
    expect(JSON.stringify(taken)).not.toContain('number 7');
  });

  it('takes a coast-down whole or not at all', () => {
    const parts = { coastDownF0N: 180, coastDownF1NPerKmh: 0.4 };
    const of = (changes: Partial<KnownSubjects['car']>) =>
      takeSnapshot(recordOf(), subjects(changes), undefined, undefined).car.coastDown;
    expect(of(parts)).toBeNull();
    expect(of({ ...parts, coastDownF2NPerKmh2: 0.05 })).toEqual({
      f0N: 180,
      f1NPerKmh: 0.4,
      f2NPerKmh2: 0.05,
    });
  });

  it('is refused where a column holds what it cannot', () => {
    const odd = { ...subjects(), loop: { ...loop, bearings: 'north' } };
    expect(() => takeSnapshot(recordOf(), odd, undefined, undefined)).toThrow(/loop\.bearings/);
  });
});
