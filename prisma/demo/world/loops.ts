import { bearingShares, bothWays, outAndBack, reverseBearings, type Stretch, walkRoute } from './routes';
import type { DemoLoop } from './types';

interface Ripple {
  heightM: number;
  periodM: number;
}

interface LoopPlan {
  key: string;
  ownerKey: string;
  name: string;
  region: string;
  description: string;
  turnaround: string;
  startBearingDeg: number;
  stretches: readonly Stretch[];
  startHeightM: number;
  /** Height of the turnaround over the start. */
  climbM: number;
  ripples: readonly Ripple[];
  lengthUncertaintyM: number;
  lengthSource: string;
  closureDistanceM: number;
  closureHeightM: number;
  sharedRouteShare: number;
  offCruiseShare: number;
  postedLimitKmh: number;
}

const PLANS: readonly LoopPlan[] = [
  {
    key: 'coast',
    ownerKey: 'anouk',
    name: 'Corvay Coast',
    region: 'Great Averil, north shore',
    description:
      'Dual carriageway along the shore, level and open to the sea wind. Two lanes each way, little traffic outside the holidays.',
    turnaround: 'Pellin Bay interchange',
    startBearingDeg: 62,
    stretches: [
      { lengthM: 7200, endBearingDeg: 75 },
      { lengthM: 9500, endBearingDeg: 92 },
      { lengthM: 8100, endBearingDeg: 70 },
      { lengthM: 9700, endBearingDeg: 104 },
      { lengthM: 6800, endBearingDeg: 83 },
    ],
    startHeightM: 14,
    climbM: 9,
    ripples: [
      { heightM: 6, periodM: 9_000 },
      { heightM: 2.5, periodM: 3_100 },
    ],
    lengthUncertaintyM: 60,
    lengthSource: 'Mean of six positioning traces by three testers',
    closureDistanceM: 40,
    closureHeightM: 0.5,
    sharedRouteShare: 0.985,
    offCruiseShare: 0.035,
    postedLimitKmh: 130,
  },
  {
    key: 'plateau',
    ownerKey: 'ivo',
    name: 'Maldra Plateau',
    region: 'Norrin, central highland',
    description:
      'Straight road over the high plain, about 900 m above the sea. Cold in winter and thin air all year.',
    turnaround: 'Vessa Cross services',
    startBearingDeg: 158,
    stretches: [
      { lengthM: 10_400, endBearingDeg: 171 },
      { lengthM: 8_200, endBearingDeg: 190 },
      { lengthM: 9_300, endBearingDeg: 176 },
      { lengthM: 7_700, endBearingDeg: 149 },
    ],
    startHeightM: 884,
    climbM: 36,
    ripples: [
      { heightM: 9, periodM: 12_500 },
      { heightM: 3, periodM: 4_300 },
    ],
    lengthUncertaintyM: 55,
    lengthSource: 'Mean of four positioning traces by two testers',
    closureDistanceM: 75,
    closureHeightM: 1.2,
    sharedRouteShare: 0.975,
    offCruiseShare: 0.04,
    postedLimitKmh: 130,
  },
  {
    key: 'forest',
    ownerKey: 'hana',
    name: 'Oskell Forest',
    region: 'Southay, inland',
    description: 'Rolling two-lane motorway through woods, sheltered from the wind.',
    turnaround: 'Ildray junction',
    startBearingDeg: 312,
    stretches: [
      { lengthM: 6_300, endBearingDeg: 330 },
      { lengthM: 7_900, endBearingDeg: 301 },
      { lengthM: 9_100, endBearingDeg: 344 },
      { lengthM: 7_400, endBearingDeg: 8 },
    ],
    startHeightM: 96,
    climbM: 74,
    ripples: [
      { heightM: 16, periodM: 7_800 },
      { heightM: 6, periodM: 2_600 },
    ],
    lengthUncertaintyM: 70,
    lengthSource: 'Mean of three positioning traces by three testers',
    closureDistanceM: 110,
    closureHeightM: 2.1,
    sharedRouteShare: 0.965,
    offCruiseShare: 0.05,
    postedLimitKmh: 110,
  },
];

function buildLoop(plan: LoopPlan): DemoLoop {
  const points = walkRoute(plan.startBearingDeg, plan.stretches);
  const legM = points.at(-1)?.distanceM ?? 0;
  const outbound = bearingShares(points);
  const heightAt = (distanceM: number): number => {
    const along = distanceM <= legM ? distanceM : 2 * legM - distanceM;
    // ripples fade towards both ends, so that start and turnaround keep their stated heights
    const fade = Math.sin((Math.PI * along) / legM);
    const ripple = plan.ripples.reduce(
      (sum, { heightM, periodM }) => sum + heightM * Math.sin((2 * Math.PI * along) / periodM),
      0,
    );
    return plan.startHeightM + (plan.climbM * along) / legM + fade * ripple;
  };
  const elevationProfile = Array.from({ length: 2 * points.length - 1 }, (_, i) => {
    const distanceM = (i * 2 * legM) / (2 * points.length - 2);
    return { distanceM: Math.round(distanceM), heightM: Math.round(10 * heightAt(distanceM)) / 10 };
  });
  let grossClimbM = 0;
  for (let i = 1; i < elevationProfile.length; i++) {
    const rise = (elevationProfile[i]?.heightM ?? 0) - (elevationProfile[i - 1]?.heightM ?? 0);
    grossClimbM += Math.max(0, rise);
  }
  const meanHeightM =
    elevationProfile.reduce((sum, { heightM }) => sum + heightM, 0) / elevationProfile.length;
  const lengthM = Math.round(2 * legM);
  return {
    key: plan.key,
    ownerKey: plan.ownerKey,
    name: plan.name,
    region: plan.region,
    description: plan.description,
    turnaround: plan.turnaround,
    lengthM,
    lengthUncertaintyM: plan.lengthUncertaintyM,
    lengthSource: plan.lengthSource,
    altitudeM: Math.round(meanHeightM),
    netClimbM: 0,
    grossClimbM: Math.round(grossClimbM),
    closureDistanceM: plan.closureDistanceM,
    closureHeightM: plan.closureHeightM,
    sharedRouteShare: plan.sharedRouteShare,
    offCruiseShare: plan.offCruiseShare,
    postedLimitMps: plan.postedLimitKmh / 3.6,
    bearings: bothWays(outbound),
    outline: outAndBack(points, 40),
    elevationProfile,
    legs: [
      { direction: 'outbound', lengthM: lengthM / 2, netClimbM: plan.climbM, bearings: outbound },
      {
        direction: 'return',
        lengthM: lengthM / 2,
        netClimbM: -plan.climbM,
        bearings: reverseBearings(outbound),
      },
    ],
    trueLengthM: lengthM,
    trueLegClimbM: [plan.climbM, -plan.climbM],
  };
}

export const LOOPS: readonly DemoLoop[] = PLANS.map(buildLoop);
