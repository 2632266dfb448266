import type { EvidenceKind, RunQuantity } from '@/lib/run/runRecord';

/** The states of a drive, in order; each asks only for what can be read then. */
export const FIELD_STEPS = [
  {
    key: 'before',
    label: 'Before',
    quantities: [
      'pressureFront',
      'pressureRear',
      'placardFront',
      'placardRear',
      'loadMass',
      'warmUpDistance',
    ],
    choices: ['climate'],
    photos: [],
  },
  {
    key: 'start',
    label: 'Start',
    quantities: ['chargeStart', 'odometerStart'],
    choices: [],
    photos: ['startDisplay'],
  },
  {
    key: 'turnaround',
    label: 'Turn',
    quantities: ['outboundDistance', 'outboundEnergy', 'outboundDuration'],
    choices: [],
    photos: ['turnaroundDisplay'],
  },
  {
    key: 'finish',
    label: 'Finish',
    quantities: [
      'tripDistance',
      'tripEnergy',
      'tripEfficiency',
      'tripDuration',
      'tripMeanSpeed',
      'chargeEnd',
      'odometerEnd',
      'trueSpeed',
      'indicatedSpeed',
    ],
    choices: ['trueSpeedMethod', 'traffic', 'closeFollowing', 'precipitation', 'road'],
    photos: ['finishDisplay'],
  },
  {
    key: 'pluggedIn',
    label: 'Plugged in',
    quantities: ['chargerEnergy'],
    choices: ['chargerKind'],
    photos: ['charger'],
  },
] as const satisfies readonly {
  key: string;
  label: string;
  quantities: readonly RunQuantity[];
  choices: readonly string[];
  photos: readonly EvidenceKind[];
}[];

export type FieldStep = (typeof FIELD_STEPS)[number]['key'];

export function stepIndex(step: FieldStep): number {
  return FIELD_STEPS.findIndex(({ key }) => key === step);
}

/** The step before (−1) or after (+1); none beyond the ends. */
export function stepBeside(step: FieldStep, by: -1 | 1): FieldStep | undefined {
  return FIELD_STEPS[stepIndex(step) + by]?.key;
}
