import { lengthM } from './forwardModel';
import type { PriorDraws } from './priorDraws';
import { RandomStream } from './randomStream';
import type { DemoLoop, LegPlan, SpeedPiece } from './types';

const ACCELERATION_MPS2 = 1.2;
/** Braking of the average driver, from the pedal down. */
const BRAKING_MPS2 = 1;
const OFF_CRUISE_MPS = 54 / 3.6;
/** Of the length off cruise, from run to run; and of a driver's braking, from car to car. */
const OFF_CRUISE_SPREAD = 0.28;
const BRAKING_SPREAD = 0.3;
/** Traffic may slow the car down in each of these thirds of a leg's open part. */
const THIRDS = [0.2, 0.45, 0.7] as const;
const TRAFFIC_CHANCE = 0.2;

interface Traffic {
  atM: number;
  toMps: number;
  lengthM: number;
  haltS: number;
}

/**
 * Slow at both ends and about the turnaround, where the car stops at the lights of the interchange; in between at
 * cruise, but for traffic now and then, which at times brings it to a full stop.
 */
export function planDrive(
  draws: PriorDraws,
  seed: number,
  of: { runKey: string; carKey: string },
  loop: DemoLoop,
  cruiseMps: number,
): [LegPlan, LegPlan] {
  const stream = new RandomStream(seed, `driving ${of.runKey}`);
  const varies = draws.has('run');
  const share = Math.max(0.3, 1 + OFF_CRUISE_SPREAD * draws.normal('run', `off cruise ${of.runKey}`));
  const brakeMps2 = BRAKING_MPS2 * Math.exp(BRAKING_SPREAD * draws.normal('car', `braking ${of.carKey}`));
  const offMps = varies ? stream.uniform(48, 60) / 3.6 : OFF_CRUISE_MPS;
  const haltS = varies ? stream.uniform(5, 40) : 20;
  const legM = loop.trueLengthM / 2;
  const offM = (loop.offCruiseShare * legM * share) / 2;
  const leg = (startMps: number, endMps: number): LegPlan => {
    const traffic = varies ? trafficOf(stream, legM, cruiseMps) : [];
    return planLeg({ legM, cruiseMps, offMps, offM, startMps, endMps, brakeMps2, traffic });
  };
  const outbound = leg(offMps, 0);
  return [
    { ...outbound, halts: [...outbound.halts, { afterPiece: outbound.pieces.length - 1, durationS: haltS }] },
    leg(0, offMps),
  ];
}

function trafficOf(stream: RandomStream, legM: number, cruiseMps: number): Traffic[] {
  return THIRDS.flatMap((third) => {
    const atM = legM * (third + stream.uniform(0, 0.05));
    const isStop = stream.chance(0.15);
    const toMps = isStop ? 0 : cruiseMps * stream.uniform(0.5, 0.85);
    const traffic = { atM, toMps, lengthM: stream.uniform(50, 500), haltS: stream.uniform(5, 30) };
    return stream.chance(TRAFFIC_CHANCE) ? [traffic] : [];
  });
}

interface Leg {
  legM: number;
  cruiseMps: number;
  offMps: number;
  /** At each end. */
  offM: number;
  startMps: number;
  endMps: number;
  brakeMps2: number;
  traffic: readonly Traffic[];
}

function planLeg({ legM, cruiseMps, offMps, offM, startMps, endMps, brakeMps2, traffic }: Leg): LegPlan {
  const pieces: SpeedPiece[] = [];
  const halts: { afterPiece: number; durationS: number }[] = [];
  let speed = startMps;
  let at = 0;
  const add = (toMps: number, over: number) => {
    if (over <= 0) return;
    pieces.push({ fromMps: speed, toMps, lengthM: over });
    speed = toMps;
    at += over;
  };
  const rampM = (toMps: number) =>
    Math.abs(toMps ** 2 - speed ** 2) / (2 * (toMps > speed ? ACCELERATION_MPS2 : brakeMps2));
  const reach = (toMps: number) => add(toMps, rampM(toMps));
  reach(offMps);
  add(offMps, offM - at);
  reach(cruiseMps);
  for (const event of traffic) {
    add(cruiseMps, event.atM - at);
    reach(event.toMps);
    if (event.toMps === 0) halts.push({ afterPiece: pieces.length - 1, durationS: event.haltS });
    else add(event.toMps, event.lengthM);
    reach(cruiseMps);
  }
  const lastM = (Math.max(0, offMps ** 2 - endMps ** 2) + cruiseMps ** 2 - offMps ** 2) / (2 * brakeMps2);
  const slowM = Math.max(0, offM - Math.max(0, offMps ** 2 - endMps ** 2) / (2 * brakeMps2));
  add(cruiseMps, legM - at - slowM - lastM);
  reach(offMps);
  add(offMps, slowM);
  reach(endMps);
  return { pieces, halts };
}

export const standingS = ({ halts }: LegPlan): number =>
  halts.reduce((sum, { durationS }) => sum + durationS, 0);

/** Distance along a leg at each whole step of time from `offsetS` on, halts among them, and the time left over. */
export function placesInTime({ pieces, halts }: LegPlan, stepS: number, offsetS: number) {
  const placesM: number[] = [];
  let next = offsetS;
  let beganM = 0;
  let beganS = 0;
  pieces.forEach(({ fromMps, toMps, lengthM: over }, k) => {
    const takesS = (2 * over) / (fromMps + toMps);
    const acceleration = (toMps - fromMps) / takesS;
    for (; next < beganS + takesS; next += stepS) {
      const t = next - beganS;
      placesM.push(beganM + fromMps * t + 0.5 * acceleration * t * t);
    }
    beganS += takesS;
    beganM += over;
    const haltS = halts.find((halt) => halt.afterPiece === k)?.durationS ?? 0;
    for (; next < beganS + haltS; next += stepS) placesM.push(beganM);
    beganS += haltS;
  });
  return { placesM, nextS: next - beganS, totalM: lengthM(pieces) };
}
