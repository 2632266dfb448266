import type { FactorKey } from '@/lib/run/factors';

/** Levels as the demo steward brings them under one name, the one that others are held against first. */
export interface DemoSharedLevel {
  factor: FactorKey;
  words: string;
  /** Model and level by the demo world's keys. */
  levels: readonly (readonly [modelKey: string, levelKey: string])[];
}

/**
 * What means the same in several models. Loads of 400 and 560 kg do not, nor do wheels and tyres of different kinds:
 * those stay unmapped, as a careful steward would leave them.
 */
export const SHARED_LEVELS: readonly DemoSharedLevel[] = [
  {
    factor: 'driveMode',
    words: 'Normal',
    levels: [
      ['turnstone', 'standard'],
      ['dotterel', 'normal'],
      ['godwit', 'comfort'],
      ['pipit', 'normal'],
      ['whimbrel', 'normal'],
    ],
  },
  {
    factor: 'driveMode',
    words: 'Eco',
    levels: [
      ['turnstone', 'eco'],
      ['dotterel', 'range'],
      ['godwit', 'eco'],
      ['pipit', 'eco'],
      ['whimbrel', 'eco'],
    ],
  },
  {
    factor: 'rideHeight',
    words: 'Normal',
    levels: [
      ['turnstone', 'normal'],
      ['godwit', 'normal'],
    ],
  },
  {
    factor: 'rideHeight',
    words: 'Low',
    levels: [
      ['turnstone', 'low'],
      ['godwit', 'low'],
    ],
  },
  {
    factor: 'tyrePressure',
    words: 'Placard',
    levels: [
      ['dotterel', 'placard-light'],
      ['pipit', 'placard'],
    ],
  },
  {
    factor: 'tyrePressure',
    words: 'Placard, full load',
    levels: [
      ['dotterel', 'placard-full'],
      ['pipit', 'placard-full'],
    ],
  },
  { factor: 'openingsCovers', words: 'Closed', levels: [['turnstone', 'bed-cover-closed']] },
  { factor: 'openingsCovers', words: 'Open', levels: [['turnstone', 'bed-open']] },
  {
    factor: 'roofHitch',
    words: 'Nothing outside',
    levels: [
      ['dotterel', 'bare'],
      ['pipit', 'bare'],
      ['whimbrel', 'bare'],
    ],
  },
  { factor: 'roofHitch', words: 'Roof box', levels: [['pipit', 'roof-box']] },
  { factor: 'roofHitch', words: 'Roof rack', levels: [['dotterel', 'roof-rack']] },
  { factor: 'roofHitch', words: 'Bicycles', levels: [['whimbrel', 'bikes']] },
  { factor: 'cabinClimate', words: 'On', levels: [['godwit', 'mild']] },
  { factor: 'cabinClimate', words: 'Off', levels: [['godwit', 'off']] },
];
