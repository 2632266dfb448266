import type { Component } from './accumulate';
import type { FittedComponents } from './components';
import type { FitRow } from './fitRow';
import type { PooledCarLoop } from './groupFit';
import type { Moderation } from './moderation';
import { type RunColumns, rowAt } from './runColumns';

const COMPONENT_WORDS: Record<Component, string> = {
  car: 'car variation',
  carLoop: 'variation of a car between loops',
  session: 'session variation',
  residual: 'repeatability',
};

/** Among a fit's notes the one that says where its car-on-loop variance comes from. */
export function pooledNote(from: string): string {
  return `${COMPONENT_WORDS.carLoop} pooled over ${from}`;
}

const percent = (s2: number) => `${(100 * Math.sqrt(s2)).toPrecision(2)} %`;

/** Sentences that a page must show about a fit's components. */
export function describeComponents(
  fitted: FittedComponents,
  moderation: Moderation,
  pooled: PooledCarLoop | undefined,
): string[] {
  const notes: string[] = [];
  if (fitted.method === 'none' && fitted.boundary.includes('residual')) {
    return ['runs repeat exactly and state no uncertainty, so no interval can be given'];
  }
  for (const name of ['car', 'session', 'residual'] as const) {
    const prior = moderation[name];
    if (prior === undefined || fitted.at === null) continue;
    if (fitted.origins[name] === 'assumed') {
      notes.push(`${COMPONENT_WORDS[name]} assumed: ${percent(prior.s2)}`);
    } else if (fitted.origins[name] === 'moderated') {
      notes.push(
        `${COMPONENT_WORDS[name]} drawn toward an assumed ${percent(prior.s2)}, counted as ${prior.d0.toFixed(1)} degrees of freedom`,
      );
    }
  }
  if (fitted.borrowed !== undefined && pooled !== undefined) notes.push(pooledNote(pooled.from));
  for (const name of fitted.boundary) {
    notes.push(
      name === 'residual'
        ? 'repeatability beyond the known uncertainties estimated as 0'
        : `${COMPONENT_WORDS[name]} estimated as 0`,
    );
  }
  for (const name of fitted.unidentified) {
    notes.push(`${COMPONENT_WORDS[name]} cannot be told apart in these data`);
  }
  if (!fitted.converged) notes.push('the fit did not converge');
  return notes;
}

/** Most repeated rows named one by one. */
const MOST_NAMED = 5;

/** Rows without a run's name that are identical to another: counted as runs of their own, and said so. */
export function describeRepeats(runs: RunColumns): string[] {
  const seen = new Map<string, number>();
  const firstOf = new Map<string, FitRow>();
  for (let i = 0; i < runs.count; i++) {
    if (runs.runIds[i] !== undefined) continue;
    const row = rowAt(runs, i);
    const key = JSON.stringify([row.setup, row.car, row.loop ?? '', row.session, row.z, row.u]);
    seen.set(key, (seen.get(key) ?? 0) + 1);
    if (!firstOf.has(key)) firstOf.set(key, row);
  }
  const repeated = [...seen].filter(([, count]) => count > 1);
  const named = repeated.slice(0, MOST_NAMED).map(([key, count]) => {
    const row = firstOf.get(key) as FitRow;
    const loop = row.loop === undefined ? '' : `, loop ${row.loop}`;
    return `${count} identical rows (setup ${row.setup}, car ${row.car}${loop}, session ${row.session}) count as ${count} runs; name each run in a column run to tell copies from repeats`;
  });
  const rest = repeated.length - named.length;
  return rest > 0 ? [...named, `${rest} more groups of identical rows count as runs of their own`] : named;
}
