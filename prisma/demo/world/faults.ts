import type { RunForm } from '@/lib/run/runForm';
import { RandomStream } from './randomStream';
import type { DemoFault } from './types';

/** How a planted bad submission ends: rejected; sent back and repaired; sent back and left; still in the queue. */
export type FaultEnding = 'rejected' | 'repaired' | 'sentBack' | 'waiting';

export interface PlantedFault {
  fault: DemoFault;
  ending: FaultEnding;
}

interface FaultSpec extends PlantedFault {
  /** Waiting ones have to be recent. */
  isRecent: boolean;
  /** Only displays that show miles can be mistaken for kilometres. */
  modelKeys?: readonly string[];
}

const spec = (fault: DemoFault, ending: FaultEnding, modelKeys?: readonly string[]): FaultSpec => ({
  fault,
  ending,
  isRecent: ending === 'waiting' || ending === 'sentBack',
  ...(modelKeys === undefined ? {} : { modelKeys }),
});

const FULL: readonly FaultSpec[] = [
  spec('misreadDigit', 'repaired'),
  spec('wrongUnit', 'repaired', ['turnstone', 'pipit']),
  spec('noFinishPhoto', 'repaired'),
  spec('closeFollowing', 'rejected'),
  spec('rain', 'rejected'),
  spec('rain', 'rejected'),
  spec('cruiseTooSlow', 'rejected'),
  spec('startChargeOff', 'rejected'),
  spec('misreadDigit', 'sentBack'),
  spec('misreadDigit', 'waiting'),
  spec('noFinishPhoto', 'waiting'),
  spec('cruiseTooSlow', 'waiting'),
  spec('startChargeOff', 'waiting'),
];

const SMALL: readonly FaultSpec[] = [
  spec('misreadDigit', 'repaired'),
  spec('rain', 'rejected'),
  spec('cruiseTooSlow', 'rejected'),
  spec('noFinishPhoto', 'waiting'),
];

export interface FaultCandidate {
  key: string;
  modelKey: string;
}

/** Chooses which of the runs, given in the order of driving, were spoiled, and how. */
export function plantFaults(
  seed: number,
  candidates: readonly FaultCandidate[],
  scale: 'full' | 'small',
): Map<string, PlantedFault> {
  const planted = new Map<string, PlantedFault>();
  const firstRecent = Math.floor(0.85 * candidates.length);
  for (const [number, { fault, ending, isRecent, modelKeys }] of (scale === 'full'
    ? FULL
    : SMALL
  ).entries()) {
    const stream = new RandomStream(seed, `fault ${number} ${fault}`);
    const open = (isRecent ? candidates.slice(firstRecent) : candidates.slice(0, firstRecent)).filter(
      (run) => !planted.has(run.key) && (modelKeys === undefined || modelKeys.includes(run.modelKey)),
    );
    planted.set(stream.pick(open).key, { fault, ending });
  }
  return planted;
}

/** The form as it was wrongly sent; what was wrong on the road already is in its readings. */
export function spoilForm(form: RunForm, fault: DemoFault): RunForm {
  switch (fault) {
    case 'misreadDigit':
      return { ...form, tripEnergy: misreadEnergy(form.tripEnergy ?? '', form.outboundEnergy ?? '') };
    case 'wrongUnit':
      return { ...form, tripEfficiencyUnit: 'km/kWh' };
    case 'closeFollowing':
      return { ...form, closeFollowing: 'some', notes: 'Behind a lorry for about a third of the way back.' };
    case 'rain':
      return { ...form, precipitation: 'rain', road: 'wet', notes: 'A shower on the way back.' };
    case 'cruiseTooSlow':
    case 'startChargeOff':
    case 'noFinishPhoto':
    case 'duplicate':
      return form;
  }
}

/** A misreading that the form takes: not the digit itself again, and not less than was shown at the turnaround. */
function misreadEnergy(text: string, outbound: string): string {
  const misread = withLookAlikeDigit(text);
  return misread !== text && Number(misread) > Number(outbound) ? misread : withDigit(text, () => '9');
}

const LOOK_ALIKE = '8759465138';

/** The digit before the decimal mark taken for another that looks alike: 18.4 for 13.4. */
export function withLookAlikeDigit(text: string): string {
  return withDigit(text, (digit) => LOOK_ALIKE[digit] ?? '0');
}

function withDigit(text: string, change: (digit: number) => string): string {
  const at = text.includes('.') ? text.indexOf('.') - 1 : text.length - 1;
  return `${text.slice(0, at)}${change(Number(text[at] ?? '0'))}${text.slice(at + 1)}`;
}

/** What the road did to a run with that fault. */
export interface Mishap {
  logEffect: number;
  cruiseOffsetMps: number;
  chargeStart: number | undefined;
}

export const NO_MISHAP: Mishap = { logEffect: 0, cruiseOffsetMps: 0, chargeStart: undefined };

export function mishapOf(fault: DemoFault | undefined): Mishap {
  switch (fault) {
    case 'closeFollowing':
      return { ...NO_MISHAP, logEffect: -0.06 };
    case 'rain':
      return { ...NO_MISHAP, logEffect: 0.05 };
    case 'cruiseTooSlow':
      return { ...NO_MISHAP, cruiseOffsetMps: -4.2 / 3.6 };
    case 'startChargeOff':
      return { ...NO_MISHAP, chargeStart: 0.782 };
    default:
      return NO_MISHAP;
  }
}

/** The protocol's rule that the fault breaks. */
export const FAULT_RULES: Readonly<Record<DemoFault, string>> = {
  misreadDigit: 'finish-readings-agree',
  closeFollowing: 'no-close-following',
  rain: 'no-precipitation',
  wrongUnit: 'finish-readings-agree',
  noFinishPhoto: 'finish-display-photo',
  cruiseTooSlow: 'mean-cruise-speed',
  startChargeOff: 'start-charge',
  duplicate: 'not-duplicate',
};

/** What the reviewer writes. */
export const FAULT_NOTES: Readonly<Record<DemoFault, string>> = {
  misreadDigit:
    'Energy and shown consumption do not agree; please compare the energy with your finish photo.',
  closeFollowing: 'Following another vehicle closely is unsafe and lowers consumption; the run cannot count.',
  rain: 'Rain during the run: a wet road costs several per cent. Please repeat it dry.',
  wrongUnit: 'The photo shows mi/kWh, the form says km/kWh. Please correct the unit.',
  noFinishPhoto: 'There is no photo of the display at the finish. Please add it.',
  cruiseTooSlow: 'The speed held is too far below its class; it belongs to no class that we keep.',
  startChargeOff: 'Started far from the charge that the other runs of this comparison start from.',
  duplicate: 'The same readings were already recorded as another run.',
};
