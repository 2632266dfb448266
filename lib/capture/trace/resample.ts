/** Linear interpolation of y(x) at 0, step, 2·step …; x increasing. */
export function resample(x: Float64Array, y: Float64Array, nodes: number, step: number): Float64Array {
  const out = new Float64Array(nodes);
  let at = 0;
  for (let k = 0; k < nodes; k++) {
    const wanted = k * step;
    while (at + 2 < x.length && (x[at + 1] as number) < wanted) at++;
    const x0 = x[at] as number;
    const x1 = x[at + 1] ?? x0;
    const y0 = y[at] as number;
    const y1 = y[at + 1] ?? y0;
    const share = x1 > x0 ? Math.min(1, Math.max(0, (wanted - x0) / (x1 - x0))) : 0;
    out[k] = y0 + share * (y1 - y0);
  }
  return out;
}

export function withoutMissing(x: Float64Array, y: Float64Array): [Float64Array, Float64Array] {
  const there = (_: number, at: number) => !Number.isNaN(y[at] as number);
  return [x.filter(there), y.filter(there)];
}
