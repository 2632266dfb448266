import type { ConsistencyCheck } from '@/lib/capture/consistency';
import type { CruiseClass } from '@/lib/run/cruiseClass';
import type { RunQuantity } from '@/lib/run/fields/table';
import type { RunRecord } from '@/lib/run/runRecord';
import type { Said } from '@/lib/units/said';

/** What the rules ask of the loop. Shares 0..1. */
export interface LoopFacts {
  name: string;
  lengthM: number;
  /** Standard uncertainty of the length. */
  lengthUncertaintyM: number;
  /** Distance between start and finish. */
  closureDistanceM: number;
  /** Height of the finish less that of the start; the sign does not matter. */
  closureHeightM: number;
  /** Share of the route that the outbound and the return leg have in common. */
  sharedRouteShare: number;
  /** Share of the distance driven off the cruise speed (ramps, turnaround, streets). */
  offCruiseShare: number;
  postedLimitMps: number;
  altitudeM: number;
}

export interface CarFacts {
  /** Used where the run's own form does not give the placard's pressures. */
  placardFrontPa?: number;
  placardRearPa?: number;
  /** A speedometer calibration on file that is valid on the run's date. */
  hasSpeedometerCalibration: boolean;
}

/** The energy reading that fits the others worst, where the χ² test of method A1 fails. */
export interface EnergyDisagreement {
  label: string;
  standardisedResidual: number;
  chiSquare: number;
  pValue: number;
}

export interface EnergyFacts {
  /** Standard uncertainty of the reconciled energy from display resolution alone, over the energy. */
  relativeResolutionUncertainty: number;
  disagreeing?: EnergyDisagreement;
  /** Absent where there is only one reading of the energy. */
  birgeRatio?: number;
}

/** The mean headwind outbound that the two legs' energies imply, beside the one reported (method A4). */
export interface WindFinding {
  impliedHeadwindMps: number;
  reportedHeadwindMps: number;
  /** Standard uncertainty of the difference of the two. */
  standardUncertaintyMps: number;
}

export interface NormalisationMade {
  ok: true;
  /** e_ref/e_meas − 1: the sum of all adjustments over the measured consumption, signed. */
  adjustmentRelative: number;
  /** The scale s of the road load (method A5, step 1). */
  scale: number;
  /** Absent without turnaround readings or where the legs' climb is not known. */
  windFinding?: WindFinding;
}

export interface NormalisationOutOfReach {
  ok: false;
  /** Whole sentences. */
  reasons: readonly (string | Said)[];
}

export type NormalisationFacts = NormalisationMade | NormalisationOutOfReach | undefined;

/** A picture of another run beside one of this run's. */
export interface PictureNeighbour {
  runNumber: number;
  /** The other run is of the same tester. */
  isOwn: boolean;
  /** The same file; otherwise the two only look alike. */
  isSame: boolean;
  /** Of the 64 bits of their perceptual hashes. */
  differingBits: number;
}

/** Another run that was there before. */
export interface RunNeighbour {
  runNumber: number;
  /** Of the same tester. */
  isOwn: boolean;
  isSameCar: boolean;
  isSameLoop: boolean;
  /** ISO 8601 instant. */
  startedAt: string;
  /** Null where it does not say how long it took. */
  durationS: number | null;
  /** In canonical units. */
  readings: Partial<Readonly<Record<RunQuantity, number>>>;
}

/** How runs that were repeated within a day lie about their means, against what the class lets expect. */
export interface Scatter {
  runs: number;
  dof: number;
  ratio: number;
  pValue: number;
}

/** What a run is held against besides itself: a bounded list, gathered by the caller. */
export interface Neighbourhood {
  runs: readonly RunNeighbour[];
  /** Of the energies of the run's tester, this run's among them; null where there are none. */
  lastDigits: { readings: number; pValue: number } | null;
  /** Of the tester's runs of the class within setups and days; null where none were repeated or nothing is expected. */
  spread: Scatter | null;
  /** The same of all testers' runs of its setup. */
  spreadOfSetup: Scatter | null;
  /** The same of all testers who count as one with the run's, the tester among them; null where nobody else does. */
  spreadOfCluster: Scatter | null;
  hasRecording: boolean;
}

/** When a photo was taken, as its camera said. */
export interface PhotoTime {
  /** ISO 8601 instant; of a camera that said no time zone, its clock read as UTC. */
  at: string;
  utcOffsetMin: number | null;
}

/**
 * Everything that the protocol's rules may look at, gathered once by the caller.
 * Plain data: a rule is a function of these facts and of the protocol version's parameters, of nothing else.
 */
export interface RunFacts {
  record: RunRecord;
  loop: LoopFacts;
  cruiseClass: CruiseClass;
  car: CarFacts;
  checks: readonly ConsistencyCheck[];
  energy: EnergyFacts;
  normalisation: NormalisationFacts;
  /** Kinds of the photos attached to the revision. */
  evidenceKinds: readonly string[];
  /** Pictures of other runs that are, or look like, the revision's own. */
  pictures: readonly PictureNeighbour[];
  /** Of those of the revision's photos that say it. */
  photoTimes: readonly PhotoTime[];
  /** The study that the run belongs to. */
  study?: { plannedStartCharge: number };
  /** Number of an earlier run with the same content (see duplicates.ts). */
  duplicateOfRunNumber?: number;
  /** Absent where nobody looked. */
  neighbourhood?: Neighbourhood;
  /** ISO 8601 instant of the evaluation. */
  now: string;
}
