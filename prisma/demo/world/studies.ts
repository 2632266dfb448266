import { GUESSES } from './requests';
import type { DemoStudy } from './types';

/**
 * Four studies over runs that the testers drove anyway: each is planned before its first day, so that its runs join it
 * by themselves when they are sent in. Whoever takes part joins after their last run that would fit it by chance and is
 * not meant.
 */
const STUDIES: readonly Omit<DemoStudy, 'guesses'>[] = [
  {
    key: 'low at 130',
    question: 'Does the low ride height use less at 130?',
    carKey: 'turnstone-1',
    loopKey: 'coast',
    cruiseClassKey: 'kmh-130',
    baselineKey: 'turnstone/baseline',
    otherKeys: ['turnstone/low'],
    wantedPercent: 2,
    runsADay: 4,
    days: 2,
    seed: 1,
    plannedAt: '2026-03-21T18:40:00.000Z',
    begunAt: '2026-03-22T09:10:00.000Z',
    joined: [{ testerKey: 'goran', at: '2026-04-06T17:25:00.000Z' }],
    ended: { kind: 'complete', at: '2026-06-27T19:05:00.000Z' },
    requestKey: 'low pick-up at 130',
    sessionKeys: ['turnstone-1 coast 2026-03-30', 'turnstone-3 coast 2026-06-14'],
  },
  {
    key: 'eco in the small hatch',
    question: 'Does Eco use less in a small hatch at 110?',
    carKey: 'pipit-1',
    loopKey: 'coast',
    cruiseClassKey: 'kmh-110',
    baselineKey: 'pipit/baseline',
    otherKeys: ['pipit/eco'],
    wantedPercent: 1.5,
    runsADay: 4,
    days: 3,
    seed: 2,
    plannedAt: '2026-01-24T19:30:00.000Z',
    begunAt: '2026-01-25T08:00:00.000Z',
    joined: [
      { testerKey: 'juna', at: '2026-02-02T20:10:00.000Z' },
      { testerKey: 'celia', at: '2026-03-02T06:50:00.000Z' },
    ],
    ended: { kind: 'complete', at: '2026-03-31T18:20:00.000Z' },
    sessionKeys: ['pipit-1 coast 2026-01-31', 'pipit-4 coast 2026-03-14', 'pipit-2 coast 2026-03-22'],
  },
  {
    key: 'low on the plateau',
    question: 'Does the low ride height still help in thin air at 130?',
    carKey: 'godwit-3',
    loopKey: 'plateau',
    cruiseClassKey: 'kmh-130',
    baselineKey: 'godwit/baseline',
    otherKeys: ['godwit/low'],
    wantedPercent: 2,
    runsADay: 4,
    days: 4,
    seed: 2,
    plannedAt: '2026-05-24T17:45:00.000Z',
    begunAt: '2026-05-25T18:00:00.000Z',
    joined: [{ testerKey: 'anouk', at: '2026-10-04T10:15:00.000Z' }],
    ended: undefined,
    requestKey: 'low saloon on the plateau',
    sessionKeys: ['godwit-3 plateau 2026-05-31', 'godwit-1 plateau 2026-10-25'],
  },
  {
    key: 'tyre pressure of the empty van',
    question: 'Do the tyre pressures for a full load save anything in an empty van?',
    carKey: 'dotterel-1',
    loopKey: 'coast',
    cruiseClassKey: 'kmh-110',
    baselineKey: 'dotterel/baseline',
    otherKeys: ['dotterel/full-pressure'],
    wantedPercent: 1,
    runsADay: 2,
    days: 6,
    seed: 1,
    plannedAt: '2026-08-22T05:30:00.000Z',
    begunAt: '2026-08-23T05:30:00.000Z',
    joined: [],
    ended: {
      kind: 'abandon',
      at: '2026-09-27T16:00:00.000Z',
      reason:
        'The van got other tyres in September, so that further days could not be held against the first. Whoever has the old ones may ask again.',
    },
    sessionKeys: ['dotterel-1 coast 2026-08-28'],
  },
];

/** Those whose days were all driven: other seeds, and the small world, have other days. */
export function studiesOf(sessionKeys: ReadonlySet<string>): DemoStudy[] {
  return STUDIES.filter((study) => study.sessionKeys.every((key) => sessionKeys.has(key))).map((study) => ({
    ...study,
    guesses: GUESSES.get(study.key) ?? [],
  }));
}
