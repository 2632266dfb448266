import type { Variances } from '../accumulate';
import { type CarPart, carPart, weighable } from '../carParts';
import { fitClassComponents } from '../classComponents';
import type { FitRow } from '../fitRow';
import type { FitOptions } from '../groupFit';
import { SharedCars, solveParts } from '../heldEquations';
import { columnsOf } from '../runColumns';
import { readyColumns, readyRows } from '../sessionSpread';
import { layOutColumns, nestedKey } from '../structure';
import { type Innovation, predictSession } from './predictSession';

/** A run with when it came to count and by whom it was driven. */
export interface ApprovedRun extends FitRow {
  tester: string;
  /** Milliseconds on any common clock. */
  approvedAtMs: number;
}

/** Components to predict with, and what is known of their error. */
export interface UsedComponents {
  components: Variances;
  /** 4 × 4 flat. */
  covariance: Float64Array;
}

/** One predicted run: `place` 0 for the first of its session, which tells of the day, then of runs within the day. */
export interface PredictedRun {
  run: ApprovedRun;
  place: number;
  innovation: Innovation;
}

export interface InTurn {
  predicted: PredictedRun[];
  /** Sessions with a predicted run, and those without one. */
  sessions: number;
  notPredicted: number;
  /** How often the components were estimated anew on the way. */
  refits: number;
}

/** How the components are had: held at given ones, or as a published fit would have had them then. */
export type ComponentSource = UsedComponents | { refitWith: Pick<FitOptions, 'priors' | 'pooledCarLoop'> };

/** The record has grown by this share before the components are estimated anew. */
export const REFIT_GROWTH = 0.1;

/** Only the latest of so many sessions are predicted; those before them are what they are predicted from. */
export const MOST_SESSIONS = 1500;

/**
 * Every session of a class predicted from what was approved before the first of its runs (prequential analysis: Dawid
 * A. P., 1984, JRSS A 147, 278). Nothing that a prediction is held against has entered it, so coverage is a test;
 * refitted to the same data it would be nearly certain. A run of a setup that had no run before is not predicted.
 *
 * @param rows of one class, as its fit takes them
 */
export function predictInTurn(rows: readonly ApprovedRun[], source: ComponentSource): InTurn {
  const blocks = sessionsInTurn(rows);
  const waiting = [...rows].sort((a, b) => a.approvedAtMs - b.approvedAtMs);
  const record = new RecordSoFar(rows, source);
  const found: InTurn = { predicted: [], sessions: 0, notPredicted: 0, refits: 0 };
  const from = Math.max(0, blocks.length - MOST_SESSIONS);
  let next = 0;
  blocks.forEach((block, index) => {
    const before = (block[0] as ApprovedRun).approvedAtMs;
    for (; next < waiting.length && (waiting[next] as ApprovedRun).approvedAtMs < before; next++) {
      record.add(waiting[next] as ApprovedRun);
    }
    if (index < from) return;
    const predicted = record.predict(block);
    if (predicted.length === 0) found.notPredicted += 1;
    else found.sessions += 1;
    found.predicted.push(...predicted);
  });
  return { ...found, refits: record.refits };
}

/** Sessions by the approval of their first run; within one its runs by their approval. */
function sessionsInTurn(rows: readonly ApprovedRun[]): ApprovedRun[][] {
  const blocks = new Map<string, ApprovedRun[]>();
  for (const row of rows) {
    const key = nestedKey(row.car, row.loop ?? '', row.session);
    const own = blocks.get(key);
    if (own === undefined) blocks.set(key, [row]);
    else own.push(row);
  }
  for (const block of blocks.values()) block.sort((a, b) => a.approvedAtMs - b.approvedAtMs);
  return [...blocks.values()].sort(
    ([a], [b]) => (a as ApprovedRun).approvedAtMs - (b as ApprovedRun).approvedAtMs,
  );
}

/** What has been approved so far, as far as predictions need it. */
class RecordSoFar {
  refits = 0;
  private readonly rows: ApprovedRun[] = [];
  private readonly ofCar = new Map<string, ApprovedRun[]>();
  private readonly parts = new Map<string, CarPart>();
  private readonly shared = new SharedCars();
  private readonly base: number;
  private readonly leastU: number;
  private used: { v: Variances; covariance: Float64Array } | null = null;
  private usedAt = 0;

  constructor(
    all: readonly ApprovedRun[],
    private readonly source: ComponentSource,
  ) {
    this.base = all[0]?.z ?? 0;
    this.leastU = all.reduce((least, { u }) => Math.min(least, u), Number.POSITIVE_INFINITY);
  }

  add(row: ApprovedRun): void {
    this.rows.push(row);
    const own = this.ofCar.get(row.car) ?? [];
    own.push(row);
    this.ofCar.set(row.car, own);
    this.parts.delete(row.car);
    this.shared.add([...new Set(own.map(({ setup }) => setup))]);
  }

  predict(block: readonly ApprovedRun[]): PredictedRun[] {
    const [first] = block;
    const isKnown = ({ setup }: ApprovedRun) => this.shared.groupOf(setup) !== undefined;
    const runs = block.filter(isKnown);
    const used = this.components();
    if (first === undefined || runs.length === 0 || used === null) return [];
    // What the session joins: its own setups, and those that its car drove before.
    const joined = [...runs, ...(this.ofCar.get(first.car) ?? [])];
    const groups = new Set(joined.map(({ setup }) => this.shared.groupOf(setup)));
    const parts = [...this.ofCar.keys()].filter((car) => {
      const [any] = this.ofCar.get(car) as ApprovedRun[];
      return groups.has(this.shared.groupOf((any as ApprovedRun).setup));
    });
    const answer = solveParts(parts.map((car) => this.partOf(car, used.v)));
    const ready = readyRows(block).filter((_, i) => isKnown(block[i] as ApprovedRun));
    const innovations = predictSession(ready, {
      v: used.v,
      componentCovariance: used.covariance,
      base: this.base,
      answer,
      car: this.ofCar.has(first.car) ? this.partOf(first.car, used.v) : undefined,
    });
    return runs.map((run, place) => ({ run, place, innovation: innovations[place] as Innovation }));
  }

  private partOf(car: string, v: Variances): CarPart {
    const known = this.parts.get(car);
    if (known !== undefined) return known;
    const part = carPart(readyRows(this.ofCar.get(car) as ApprovedRun[]), v, this.base);
    this.parts.set(car, part);
    return part;
  }

  private components() {
    const { source } = this;
    if ('components' in source) {
      this.used ??= { v: weighable(source.components, this.leastU), covariance: source.covariance };
      return this.used;
    }
    const isDue = this.rows.length >= this.usedAt * (1 + REFIT_GROWTH);
    if (this.rows.length === 0 || !isDue) return this.used;
    this.usedAt = this.rows.length;
    this.refits += 1;
    const ready = readyColumns(columnsOf(this.rows));
    const { fitted } = fitClassComponents(layOutColumns(ready), ready, source.refitWith);
    const isKnown = fitted.at !== null && fitted.method !== 'none';
    const covariance = fitted.covariance.slice();
    if (fitted.borrowed !== undefined) covariance[5] = fitted.borrowed.variance;
    this.used = isKnown ? { v: weighable(fitted.components, this.leastU), covariance } : null;
    this.parts.clear();
    return this.used;
  }
}
