import type { DemoGuess, DemoRequest, DemoVoice } from './types';

/** What the people of the republic ask each other to drive, and who wants to know it as well. */

const voices = (...said: readonly (readonly [personKey: string, at: string])[]): DemoVoice[] =>
  said.map(([personKey, at]) => ({ personKey, at }));

export const REQUESTS: readonly DemoRequest[] = [
  {
    key: 'low pick-up at 130',
    question: 'Is it worth lowering the pick-up for a long day at 130?',
    modelKey: 'turnstone',
    cruiseClassKey: 'kmh-130',
    baselineKey: 'turnstone/baseline',
    setupKey: 'turnstone/low',
    askedBy: 'kofi',
    askedAt: '2026-02-08T19:12:00.000Z',
    voices: voices(
      ['davin', '2026-02-09T06:30:00.000Z'],
      ['lena', '2026-02-14T20:05:00.000Z'],
      ['goran', '2026-02-22T17:48:00.000Z'],
      ['oskar', '2026-03-03T12:21:00.000Z'],
      ['ivo', '2026-03-15T21:40:00.000Z'],
    ),
  },
  {
    key: 'low saloon on the plateau',
    question: 'Does lowering the saloon still save anything up on the plateau?',
    modelKey: 'godwit',
    cruiseClassKey: 'kmh-130',
    baselineKey: 'godwit/baseline',
    setupKey: 'godwit/low',
    askedBy: 'farah',
    askedAt: '2026-04-26T18:02:00.000Z',
    voices: voices(
      ['anouk', '2026-04-27T05:55:00.000Z'],
      ['bram', '2026-05-02T09:30:00.000Z'],
      ['hana', '2026-07-11T20:16:00.000Z'],
    ),
  },
  {
    key: 'all-season hatch at 130',
    question: 'What do all-season tyres cost the small hatch at 130?',
    modelKey: 'pipit',
    cruiseClassKey: 'kmh-130',
    baselineKey: 'pipit/baseline',
    setupKey: 'pipit/all-season',
    askedBy: 'hana',
    askedAt: '2026-08-30T16:45:00.000Z',
    voices: voices(
      ['celia', '2026-08-31T05:20:00.000Z'],
      ['farah', '2026-09-02T19:33:00.000Z'],
      ['juna', '2026-09-13T08:10:00.000Z'],
      ['elin', '2026-09-27T18:54:00.000Z'],
      ['mateo', '2026-10-04T13:37:00.000Z'],
      ['lena', '2026-10-18T07:41:00.000Z'],
    ),
  },
  {
    key: 'all-terrain tyres',
    question: 'What do all-terrain tyres cost one and the same pick-up?',
    modelKey: 'turnstone',
    cruiseClassKey: 'kmh-110',
    baselineKey: 'turnstone/baseline',
    setupKey: 'turnstone/all-terrain',
    askedBy: 'davin',
    askedAt: '2026-07-05T20:28:00.000Z',
    voices: voices(
      ['bram', '2026-07-06T18:00:00.000Z'],
      ['kofi', '2026-07-19T11:12:00.000Z'],
      ['goran', '2026-08-01T06:49:00.000Z'],
      ['ivo', '2026-09-20T15:26:00.000Z'],
    ),
  },
  {
    key: 'climate off',
    question: 'How much does switching the climate off really save at 110?',
    modelKey: 'godwit',
    cruiseClassKey: 'kmh-110',
    baselineKey: 'godwit/baseline',
    setupKey: 'godwit/climate-off',
    askedBy: 'lena',
    askedAt: '2026-10-11T19:58:00.000Z',
    voices: voices(['elin', '2026-10-14T17:03:00.000Z']),
  },
];

const guesses = (
  ...said: readonly (readonly [personKey: string, percent: number, at: string])[]
): DemoGuess[] => said.map(([personKey, percent, at]) => ({ personKey, percent, at }));

/** By the study's key: what people expect of it, in percent of consumption, below zero for less. */
export const GUESSES: ReadonlyMap<string, readonly DemoGuess[]> = new Map([
  [
    'low at 130',
    guesses(
      ['kofi', -4, '2026-03-22T20:11:00.000Z'],
      ['davin', -3, '2026-03-23T17:34:00.000Z'],
      ['ivo', -8, '2026-03-23T21:02:00.000Z'],
      ['lena', -2, '2026-03-26T06:15:00.000Z'],
      ['anouk', -5, '2026-03-29T18:40:00.000Z'],
      ['elin', -2.5, '2026-04-02T19:27:00.000Z'],
      ['hana', -1, '2026-04-11T08:52:00.000Z'],
      ['oskar', -3.5, '2026-04-19T12:05:00.000Z'],
      ['farah', 0, '2026-05-03T16:31:00.000Z'],
      ['juna', -3, '2026-05-17T20:44:00.000Z'],
      ['celia', 1, '2026-06-05T05:38:00.000Z'],
    ),
  ],
  [
    'eco in the small hatch',
    guesses(
      ['farah', -3, '2026-01-25T19:20:00.000Z'],
      ['bram', -5, '2026-01-26T18:07:00.000Z'],
      ['goran', -2, '2026-01-30T21:13:00.000Z'],
      ['lena', -4, '2026-02-04T06:42:00.000Z'],
      ['davin', 0, '2026-02-07T10:25:00.000Z'],
      ['ivo', -10, '2026-02-15T22:01:00.000Z'],
      ['nia', 0, '2026-02-20T12:48:00.000Z'],
      ['elin', -1.5, '2026-03-01T17:56:00.000Z'],
      ['anouk', -2, '2026-03-17T19:09:00.000Z'],
    ),
  ],
  [
    'low on the plateau',
    guesses(
      ['farah', -2, '2026-05-26T05:47:00.000Z'],
      ['bram', -3, '2026-05-27T18:22:00.000Z'],
      ['hana', -1, '2026-07-11T20:19:00.000Z'],
      ['davin', -2.5, '2026-07-25T19:35:00.000Z'],
      ['kofi', -4, '2026-08-14T21:08:00.000Z'],
      ['lena', 0, '2026-09-06T07:50:00.000Z'],
      ['oskar', -1.5, '2026-10-03T13:14:00.000Z'],
    ),
  ],
  [
    'tyre pressure of the empty van',
    guesses(
      ['elin', -2, '2026-08-24T18:33:00.000Z'],
      ['ivo', -4, '2026-08-29T20:57:00.000Z'],
      ['lena', -1, '2026-09-12T06:04:00.000Z'],
    ),
  ],
]);
