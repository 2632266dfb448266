import type { Contrast, Estimate, GroupFit } from './groupFit';
import type { Scale } from './runTable';

/** Aligned columns: the first to the left, the others to the right. */
function table(rows: readonly (readonly string[])[]): string {
  const widths = (rows[0] ?? []).map((_, j) => Math.max(...rows.map((row) => (row[j] ?? '').length)));
  return rows
    .map((row) =>
      row
        .map((text, j) => (j === 0 ? text.padEnd(widths[j] ?? 0) : text.padStart(widths[j] ?? 0)))
        .join('  ')
        .trimEnd(),
    )
    .join('\n');
}

const digits = (value: number | null, count = 6) => (value === null ? '–' : value.toPrecision(count));
const range = (pair: readonly [number, number] | null, show: (x: number) => string) =>
  pair === null ? '–' : `${show(pair[0])} … ${show(pair[1])}`;

const braces = (groups: readonly (readonly string[])[]) =>
  groups.map((group) => `{${group.join(', ')}}`).join(' ');

/** A fit as text for a terminal: on the log scale differences also as percentages, 100 (exp d − 1). */
export function describeFit(fit: GroupFit, scale: Scale): string {
  const percent = (x: number) => `${(100 * Math.expm1(x)).toFixed(2)} %`;
  const show = (x: number) => (scale === 'log' ? percent(x) : digits(x));
  const back = (x: number) => (scale === 'log' ? digits(Math.exp(x)) : digits(x));
  const { components } = fit;
  const parts = [
    `runs: ${fit.nIn} read, ${fit.nUsed} used, ${fit.excluded.length} excluded`,
    ...fit.excluded.map((e) => `  excluded: ${e.row.runId ?? `${e.row.setup}, ${e.row.car}`}: ${e.reason}`),
    '',
    `variance components (${scale} scale)`,
    table([
      ['car', digits(components.car, 10), fit.origins.car],
      ['car on a loop', digits(components.carLoop, 10), fit.origins.carLoop],
      ['session', digits(components.session, 10), fit.origins.session],
      ['residual', digits(components.residual, 10), fit.origins.residual],
    ]),
    `REML criterion ${digits(fit.remlCriterion, 12)}, ${fit.converged ? 'converged' : 'NOT CONVERGED'} after ${fit.evaluations} evaluations`,
    `degrees of freedom: ${fit.dfMethod}`,
    ...fit.notes.map((note) => `note: ${note}`),
    '',
    'estimates',
    table([
      ['setup', 'runs', 'sessions', 'cars', 'value', 'estimate', 'se', 'df', '95 %', ''],
      ...fit.estimates.map((e) => estimateCells(e, back)),
    ]),
    '',
    'differences (first less second)',
    table([
      ['pair', 'joined by', 'difference', 'se', 'df', '95 % alone', 'model', 'class', ''],
      ...fit.contrasts.map((c) => contrastCells(c, show)),
    ]),
  ];
  if (fit.criticalValue !== null) {
    const { value, monteCarloError, method, pairs, df } = fit.criticalValue;
    parts.push(
      `largest critical value ${value.toFixed(4)} ± ${monteCarloError.toFixed(4)} (${method}, ${pairs} pairs, ${digits(df, 4)} degrees of freedom, seed ${fit.seed})`,
    );
  }
  parts.push(
    '',
    'ranks (lowest first)',
    table([
      ['setup', 'rank', 'chance of being lowest', 'among'],
      ...fit.ranks.map((r) => [
        r.setup,
        `${r.lower}–${r.upper} of ${fit.ranks.length}`,
        r.chanceOfLowest === null ? '–' : r.chanceOfLowest.toFixed(3),
        String(r.comparable),
      ]),
    ]),
    '',
    `connected by car:     ${braces(fit.connectivity.byCar)}`,
    `connected by session: ${braces(fit.connectivity.bySession)}`,
  );
  return `${parts.join('\n')}\n`;
}

function estimateCells(e: Estimate, back: (x: number) => string): string[] {
  const unranked = e.missing.map((m) => `${m.have} of ${m.need} ${m.what}`).join(', ');
  const expected = e.expectedVariation;
  const borrowed =
    expected === null
      ? ''
      : `one run of one car would be expected to vary by ± ${digits(expected.halfWidth, 3)}`;
  const remarks = [e.label, borrowed, unranked === '' ? '' : `not ranked: ${unranked}`]
    .filter((text) => text !== '')
    .join('; ');
  return [
    e.setup,
    String(e.n),
    String(e.sessions),
    String(e.cars),
    back(e.beta),
    digits(e.beta, 8),
    digits(e.se),
    digits(e.df),
    range(e.interval95, back),
    remarks,
  ];
}

function contrastCells(c: Contrast, show: (x: number) => string): string[] {
  return [
    `${c.a} − ${c.b}`,
    c.kind === 'indirect' ? `chain of ${c.chainLength}` : c.kind,
    c.difference === null ? '–' : show(c.difference),
    digits(c.se),
    digits(c.df),
    range(c.interval95, show),
    range(c.modelInterval, show),
    range(c.simultaneous, show),
    c.reason ?? c.word ?? '',
  ];
}
