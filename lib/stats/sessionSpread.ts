import type { FitRow } from './fitRow';
import { columnsOf, type RunColumns } from './runColumns';
import type { Scope } from './scopes';

/**
 * What inputs of scope car and session do unequally to the runs of one session. Their mean over the session belongs to
 * the car's or the day's own deviation; what is left, δ_qi = c_qi − mean over the session of run i, is known, and it is
 * correlated from run to run: one draw of the input moves all runs of the session by its δ.
 */
export interface SessionSpread {
  /** By run: w_i = Σ_q δ_qi² n/(n − 1), what these would add to a run's variance if runs were independent; log scale. */
  variance: Float64Array;
  /** Inputs one after the other: those from `starts[q]` to `starts[q + 1]` are the runs that input q moves. */
  starts: Int32Array;
  runOf: Int32Array;
  deviation: Float64Array;
}

/** Scopes that have a random effect in the model, but one that is the same for all runs of a session. */
const OF_A_SESSION: ReadonlySet<Scope> = new Set(['car', 'session']);

/**
 * The factor n/(n − 1) makes Σ_q δ_qi² an unbiased scatter of single runs about the mean of their session, as n runs have
 * n − 1 independent deviations. Null where no input differs within a session, so that nothing at all is changed there.
 *
 * @param isUsed leaves out runs that the fit leaves out
 */
export function sessionSpread(
  runs: RunColumns,
  isUsed: (run: number) => boolean = () => true,
): SessionSpread | null {
  const { shared } = runs;
  if (!shared.inputs.some(({ scope }) => OF_A_SESSION.has(scope))) return null;
  const variance = new Float64Array(runs.count);
  const found = new Map<number, { runs: number[]; deviations: number[] }>();
  for (const session of sessionsOf(runs, isUsed)) {
    if (session.length < 2) continue;
    for (const [input, contributions] of contributionsIn(session, shared)) {
      if (contributions.every((value) => value === contributions[0])) continue;
      const n = session.length;
      const mean = contributions.reduce((sum, value) => sum + value, 0) / n;
      const own = found.get(input) ?? { runs: [], deviations: [] };
      found.set(input, own);
      session.forEach((run, place) => {
        const deviation = (contributions[place] as number) - mean;
        variance[run] = (variance[run] as number) + (deviation * deviation * n) / (n - 1);
        own.runs.push(run);
        own.deviations.push(deviation);
      });
    }
  }
  if (found.size === 0) return null;
  const inputs = [...found.values()];
  const starts = new Int32Array(inputs.length + 1);
  inputs.forEach((own, q) => {
    starts[q + 1] = (starts[q] as number) + own.runs.length;
  });
  return {
    variance,
    starts,
    runOf: Int32Array.from(inputs.flatMap((own) => own.runs)),
    deviation: Float64Array.from(inputs.flatMap((own) => own.deviations)),
  };
}

/** Runs as a fit takes them: the known uncertainty of each run holds what its session's inputs do unequally. */
export interface ReadyColumns extends RunColumns {
  /** Null where there is none: then `u` is as it was given. */
  spread: SessionSpread | null;
}

/** u⁺ = √(u² + w) in place of u; the one place where it is made. Columns that are ready stay as they are. */
export function readyColumns(
  runs: RunColumns | ReadyColumns,
  isUsed?: (run: number) => boolean,
): ReadyColumns {
  if ('spread' in runs) return runs;
  const spread = sessionSpread(runs, isUsed);
  if (spread === null) return { ...runs, spread };
  const u = runs.u.map((own, i) => Math.sqrt(own * own + (spread.variance[i] as number)));
  return { ...runs, u, spread };
}

/**
 * The same of rows, for what needs no more of them than their own scatter. What they share is left off, so that they
 * cannot be made ready twice.
 */
export function readyRows<Row extends FitRow>(rows: readonly Row[]): Omit<Row, 'shared'>[] {
  const { u } = readyColumns(columnsOf(rows));
  return rows.map(({ shared: _, ...row }, i) => ({ ...row, u: u[i] as number }));
}

/** Runs by car, loop and session. */
function sessionsOf({ count, car, loop, session }: RunColumns, isUsed: (run: number) => boolean): number[][] {
  const places = new Map<number, number[]>();
  for (let i = 0; i < count; i++) {
    if (!isUsed(i)) continue;
    const onLoop = (car.codes[i] as number) * (loop.names.length + 1) + (loop.codes[i] as number) + 1;
    const key = onLoop * session.names.length + (session.codes[i] as number);
    const own = places.get(key);
    if (own === undefined) places.set(key, [i]);
    else own.push(i);
  }
  return [...places.values()];
}

/** What each input of a session's scopes contributes to its runs, in their order. */
function contributionsIn(
  session: readonly number[],
  { starts, inputs, inputOf, contribution }: RunColumns['shared'],
): Map<number, number[]> {
  const found = new Map<number, number[]>();
  session.forEach((run, place) => {
    for (let at = starts[run] as number; at < (starts[run + 1] as number); at++) {
      const input = inputOf[at] as number;
      if (!OF_A_SESSION.has((inputs[input] as { scope: Scope }).scope)) continue;
      const own = found.get(input) ?? new Array<number>(session.length).fill(0);
      found.set(input, own);
      own[place] = (own[place] as number) + (contribution[at] as number);
    }
  });
  return found;
}
