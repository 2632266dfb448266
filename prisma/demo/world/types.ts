import type { BodyClass } from '@/lib/run/bodyClass';
import type { FactorKey } from '@/lib/run/factors';
import type { ChoiceValue, EvidenceKind } from '@/lib/run/fields/table';
import type { Role } from '@/lib/run/roles';
import type { RunForm } from '@/lib/run/runForm';
import type { TyreKind } from '@/lib/run/tyreKind';
import type { UnitCode } from '@/lib/units/unit';

/** A person of the demo world; `key` is what the rest of the world refers to. */
export interface DemoPerson {
  key: string;
  displayName: string;
  email: string;
  role: Role;
}

/** What a model's trip display shows: unit and digits after the decimal mark. */
export interface DemoDisplay {
  distance: { unit: UnitCode; decimals: number };
  energy: { unit: UnitCode; decimals: number };
  consumption: { unit: UnitCode; decimals: number };
  speed: { unit: UnitCode; decimals: number };
  showsAuxiliaryPower: boolean;
}

export interface DemoLevel {
  factor: FactorKey;
  key: string;
  label: string;
  tyreKind?: TyreKind;
}

/** What the car's road load truly is in one setup. */
export interface TrueRoadLoad {
  dragAreaM2: number;
  rollingCoefficient: number;
  drivetrainEfficiency: number;
  /** Kerb mass plus what is always carried (driver, equipment) plus the setup's load. */
  massKg: number;
}

export interface DemoSetup {
  key: string;
  levelKeys: readonly string[];
  /** The factor in which it differs from its model's baseline; the baseline itself has none. */
  changes: FactorKey | undefined;
  climate: ChoiceValue<'climate'>;
  loadKg: number;
  /** Placard pressure that belongs to this setup's load. */
  placardPa: { front: number; rear: number };
  truth: TrueRoadLoad;
}

export interface DemoModel {
  key: string;
  makerName: string;
  name: string;
  modelYear: number;
  variant: string;
  bodyClass: BodyClass;
  kerbMassKg: number;
  usableCapacityWh: number;
  dragAreaM2?: number;
  dragAreaSource?: string;
  hasHeatPump: boolean;
  display: DemoDisplay;
  levels: readonly DemoLevel[];
  /** The first one is the baseline. */
  setups: readonly DemoSetup[];
}

export interface DemoCar {
  key: string;
  ownerKey: string;
  modelKey: string;
  name: string;
  usableCapacityWh: number;
  /** true = factor × indicated, of trip distance and odometer alike. */
  odometerFactor: number;
  speedometerFactor: number;
  /** What the owner found when calibrating, with its standard uncertainty. */
  calibratedOdometerFactor: number;
  calibratedSpeedometerFactor: number;
  calibratedOn: string;
  /** ln of the car's consumption over its model's mean. */
  logEffect: number;
  /** Share of the charger's energy that reaches the battery. */
  chargingEfficiency: number;
  chargerKind: 'dc' | 'ac';
}

export interface BearingShare {
  bearingDeg: number;
  share: number;
}

export interface DemoLeg {
  direction: 'outbound' | 'return';
  lengthM: number;
  netClimbM: number;
  bearings: readonly BearingShare[];
}

export interface DemoLoop {
  key: string;
  ownerKey: string;
  name: string;
  region: string;
  description: string;
  turnaround: string;
  lengthM: number;
  lengthUncertaintyM: number;
  lengthSource: string;
  altitudeM: number;
  netClimbM: number;
  grossClimbM: number;
  closureDistanceM: number;
  closureHeightM: number;
  sharedRouteShare: number;
  offCruiseShare: number;
  postedLimitMps: number;
  bearings: readonly BearingShare[];
  outline: readonly { x: number; y: number }[];
  elevationProfile: readonly { distanceM: number; heightM: number }[];
  legs: readonly [DemoLeg, DemoLeg];
  /** What the loop's length and the climb of its legs really are. */
  trueLengthM: number;
  trueLegClimbM: readonly [number, number];
}

/** The air and wind of one run: what truly was, and what its source reported. */
export interface TrueConditions {
  temperatureC: number;
  pressurePa: number;
  relativeHumidity: number;
  airDensityKgM3: number;
  /** Mean wind at 10 m and the direction it blows from. */
  wind10mMps: number;
  windFromDeg: number;
  gustMps: number | undefined;
  /** Of the day, as the road departs from the station. */
  wind: WindErrors;
}

/** How the wind at the road departs from 0.66 of the station's, by method A4's budget; all 0 or 1 at its centre. */
export interface WindErrors {
  /** What arrives at the height of the car, of the station's 10 m wind. */
  carHeightShare: number;
  /** Sheltering, as a share of each component. */
  alongShare: number;
  acrossShare: number;
  /** Of the station's own reading, in m/s at 10 m. */
  alongMps: number;
  acrossMps: number;
  directionDeg: number;
}

export type DemoPhotoLine = readonly [label: string, value: string, unit: string];

export interface DemoPhoto {
  kind: EvidenceKind;
  heading: string;
  lines: readonly DemoPhotoLine[];
  held: DemoHold;
}

/** How the camera was held: no two photos of one display are the same picture. */
export interface DemoHold {
  /** Of the drawing's own units. */
  rightBy: number;
  downBy: number;
  turnedDeg: number;
  enlargedBy: number;
  patches: readonly DemoPatch[];
}

/** Light or shade that fell on what was photographed, in the drawing's own units. */
export interface DemoPatch {
  x: number;
  y: number;
  radius: number;
  isLight: boolean;
  /** 0..1. */
  opacity: number;
}

export type DemoFault =
  | 'misreadDigit'
  | 'closeFollowing'
  | 'rain'
  | 'wrongUnit'
  | 'noFinishPhoto'
  | 'cruiseTooSlow'
  | 'startChargeOff'
  | 'duplicate';

export interface DemoReview {
  reviewerKey: string;
  /** ISO 8601 instants. */
  claimedAt: string;
  decidedAt: string;
  kind: 'approve' | 'askChanges' | 'reject';
  note: string;
}

export interface DemoRevision {
  form: RunForm;
  photos: readonly DemoPhoto[];
  submittedAt: string;
  /** What is wrong with it; a good revision has none. */
  fault: DemoFault | undefined;
  /** Absent: it still waits in the queue. */
  review: DemoReview | undefined;
}

export interface DemoRun {
  /** Also its creation key. */
  key: string;
  testerKey: string;
  carKey: string;
  setupKey: string;
  loopKey: string;
  cruiseClassKey: string;
  sessionKey: string;
  /** ISO 8601 instant. */
  startedAt: string;
  /** A draft is never submitted and has only this form; otherwise the revisions hold the forms. */
  draftForm: RunForm | undefined;
  revisions: readonly DemoRevision[];
  retraction: { at: string; reason: string } | undefined;
}

/** A stretch over which the speed changes with a constant acceleration: v² runs straight with the distance. */
export interface SpeedPiece {
  fromMps: number;
  toMps: number;
  lengthM: number;
}

/** How one leg was driven: pieces in order, and the halts at the ends of pieces. */
export interface LegPlan {
  pieces: readonly SpeedPiece[];
  halts: readonly { afterPiece: number; durationS: number }[];
}

/** What a run's readings were made from. */
export interface TrueRun {
  conditions: TrueConditions;
  cruiseSpeedMps: number;
  legs: readonly [LegPlan, LegPlan];
  durationS: number;
  auxiliaryPowerW: number;
  /** The road-load equation's value, before any effect. */
  modelWhPerKm: number;
  /** ln of car, session and run effect together, beyond what the priors know of. */
  logEffect: number;
  energyWh: number;
  /** By what the display shows too much: its own scale, and what a cold battery draws beside. */
  shownShare: number;
  outboundEnergyWh: number;
}

export interface DemoTruth {
  /** Per setup and cruise class: consumption at reference conditions, mean over cars, Wh/km. */
  referenceWhPerKm: Readonly<Record<string, Readonly<Record<string, number>>>>;
  /** Per setup and cruise class: ln of its consumption over its model's baseline. */
  factorLogEffect: Readonly<Record<string, Readonly<Record<string, number>>>>;
  carLogEffect: Readonly<Record<string, number>>;
  sessionLogEffect: Readonly<Record<string, number>>;
  runs: Readonly<Record<string, TrueRun>>;
  /** Standard deviations that the effects were drawn from. */
  spread: { car: number; session: number; repeatability: number };
}

/** A study that testers of the world plan, drive in and end. Instants are ISO. */
export interface DemoStudy {
  key: string;
  question: string;
  /** Whose owner plans it. */
  carKey: string;
  loopKey: string;
  cruiseClassKey: string;
  baselineKey: string;
  otherKeys: readonly string[];
  wantedPercent: number;
  runsADay: number;
  days: number;
  /** Of the orders. */
  seed: number;
  plannedAt: string;
  begunAt: string;
  joined: readonly { testerKey: string; at: string }[];
  /** Undefined while it is running. */
  ended: { kind: 'complete'; at: string } | { kind: 'abandon'; at: string; reason: string } | undefined;
  /** The days that are driven for it. */
  sessionKeys: readonly string[];
  /** What it was planned from. */
  requestKey?: string;
  guesses: readonly DemoGuess[];
}

/** What somebody expects of a running study, in percent of consumption; below zero is less. */
export interface DemoGuess {
  personKey: string;
  percent: number;
  at: string;
}

export interface DemoVoice {
  personKey: string;
  at: string;
}

/** Two setups that somebody asks others to drive. */
export interface DemoRequest {
  key: string;
  question: string;
  modelKey: string;
  cruiseClassKey: string;
  baselineKey: string;
  setupKey: string;
  askedBy: string;
  askedAt: string;
  /** Beside that of whoever asks. */
  voices: readonly DemoVoice[];
}

export interface DemoWorld {
  seed: number;
  country: string;
  people: readonly DemoPerson[];
  models: readonly DemoModel[];
  cars: readonly DemoCar[];
  loops: readonly DemoLoop[];
  /** In the order in which they were driven. */
  runs: readonly DemoRun[];
  studies: readonly DemoStudy[];
  requests: readonly DemoRequest[];
  truth: DemoTruth;
}
