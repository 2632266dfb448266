import { EVIDENCE, type Evidence } from './groupFit';
import { type OtherWays, turnWays } from './otherWays/way';

/** The difference of a setup from a baseline: ln(setup) − ln(baseline), whatever way round it is stored. */
export interface OrientedContrast {
  kind: string;
  chainLength: number;
  difference: number | null;
  se: number | null;
  dof: number | null;
  pointwise: [number, number] | null;
  simultaneous: [number, number] | null;
  /** Held for all comparable pairs of the model; null across models. */
  ofModel: [number, number] | null;
  /** Null where the pair has no interval. */
  word: Evidence | null;
  /** Whether it would be settled but for resting on one tester. */
  restsOnOne: boolean;
  /** Undefined where it has not been computed. */
  otherWays: OtherWays | undefined;
  /** The part of `se` from what the runs share. */
  sharedU: number | null;
  reason: string | null;
}

/** A difference of two setups as a fit gives it and the registry keeps it: ln(A) − ln(B). */
export interface PairContrast {
  setupAId: string;
  setupBId: string;
  kind: string;
  chainLength: number;
  differenceLog: number | null;
  logSe: number | null;
  dof: number | null;
  lowLog: number | null;
  highLog: number | null;
  simultaneousLowLog: number | null;
  simultaneousHighLog: number | null;
  modelLowLog: number | null;
  modelHighLog: number | null;
  word: string | null;
  restsOn: readonly string[];
  otherWays: OtherWays | undefined;
  sharedULog: number | null;
  reason: string | null;
}

/** Stored is A less B. Seen from the other side the sign turns, and the ends of an interval change places. */
export function orientContrast(
  row: PairContrast,
  baselineId: string,
  setupId: string,
): OrientedContrast | undefined {
  const asStored = row.setupAId === setupId && row.setupBId === baselineId;
  const turned = row.setupAId === baselineId && row.setupBId === setupId;
  if (!asStored && !turned) return undefined;
  const ends = (low: number | null, high: number | null): [number, number] | null => {
    if (low === null || high === null) return null;
    return asStored ? [low, high] : [-high, -low];
  };
  const difference = row.differenceLog;
  return {
    kind: row.kind,
    chainLength: row.chainLength,
    difference: difference === null || asStored ? difference : -difference,
    se: row.logSe,
    dof: row.dof,
    pointwise: ends(row.lowLog, row.highLog),
    simultaneous: ends(row.simultaneousLowLog, row.simultaneousHighLog),
    ofModel: ends(row.modelLowLog, row.modelHighLog),
    word: EVIDENCE.find((word) => word === row.word) ?? null,
    restsOnOne: row.restsOn.length > 0,
    otherWays: row.otherWays && (asStored ? row.otherWays : turnWays(row.otherWays)),
    sharedU: row.sharedULog,
    reason: row.reason,
  };
}

/** The contrast of a setup from a baseline among stored ones. */
export function findContrast(
  rows: readonly PairContrast[],
  baselineId: string,
  setupId: string,
): OrientedContrast | undefined {
  for (const row of rows) {
    const found = orientContrast(row, baselineId, setupId);
    if (found !== undefined) return found;
  }
  return undefined;
}

/** A difference of logarithms as a ratio less one, in per cent: 100 (exp d − 1). */
export function percentOf(differenceLog: number): number {
  return 100 * Math.expm1(differenceLog);
}

export function percentEnds(ends: [number, number] | null): [number, number] | null {
  return ends === null ? null : [percentOf(ends[0]), percentOf(ends[1])];
}
