import type { RecordFormView } from '@/lib/registry/runs/recordForm';
import type { StudyToDrive } from '@/lib/study/nextToDrive';

/** A study of the first car on the loop, whose second run of a day is another setup than the first. */
export function studyView(changes: Partial<StudyToDrive> = {}): StudyToDrive {
  return {
    studyId: 'study-1',
    slug: 'low-at-110',
    question: 'Does low use less at 110?',
    loopId: 'loop-1',
    cruiseClassKey: 'kmh-110',
    carIds: ['car-1'],
    setups: [
      { id: 'setup-1', title: 'Ride height low', letter: 'A' },
      { id: 'setup-3', title: 'Ride height high', letter: 'B' },
    ],
    days: [['setup-1', 'setup-3', 'setup-3', 'setup-1']],
    runs: [],
    ...changes,
  };
}

/** What the form of a run is given, with two cars of two models and one loop posted at 110 km/h. */
export function recordView(changes: Partial<RecordFormView> = {}): RecordFormView {
  const other = {
    usableCapacityWh: undefined,
    placardFrontPa: undefined,
    placardRearPa: undefined,
    units: {},
  };
  return {
    runId: 'run-1',
    number: 12,
    status: 'draft',
    draftVersion: 4,
    savedAt: '2026-11-20T12:00:00.000Z',
    submittedAt: undefined,
    form: {},
    sentForm: undefined,
    revisionNumber: 0,
    world: 'record',
    cars: [
      {
        id: 'car-1',
        name: 'Blue one',
        modelId: 'model-1',
        model: 'Korvane Tidewind 2025',
        usableCapacityWh: 135_000,
        placardFrontPa: 250_000,
        placardRearPa: 290_000,
        units: { tripDistance: 'mi' },
        setups: [{ id: 'setup-1', title: 'Ride height low' }],
      },
      {
        ...other,
        id: 'car-2',
        name: 'Small red',
        modelId: 'model-2',
        model: 'Sellin Mote 2024',
        setups: [{ id: 'setup-2', title: 'Of the other model' }],
      },
    ],
    loops: [
      {
        id: 'loop-1',
        name: 'Skerry coast',
        region: 'East',
        length: '52.7 km',
        postedLimit: '110 km/h',
        cruiseClassKeys: ['kmh-80', 'kmh-90', 'mph-60', 'kmh-100', 'mph-65', 'kmh-110'],
      },
    ],
    hasMoreLoops: false,
    units: {},
    studies: [],
    photos: [],
    review: undefined,
    now: '2026-11-20T12:00:00.000Z',
    ...changes,
  };
}
