/**
 * Positions and their rates of change out of noisy fixes: the Kalman filter with the backward pass of H. E. Rauch,
 * F. Tung and C. T. Striebel (AIAA J. 3 (1965) 1445) for a place whose acceleration is white noise (Y. Bar-Shalom,
 * X.-R. Li, T. Kirubarajan, Estimation with Applications to Tracking and Navigation, 2001, 6.2.2). From a start that
 * says nothing it is the cubic smoothing spline (G. Wahba, J. R. Statist. Soc. B 40 (1978) 364): well defined for any
 * spacing of times; straight lines at steady speed pass unchanged, and a wave of period T loses (2π·h/T)⁴ of itself.
 *
 * A fix counts by the time that it stands for (measurement variance 1/Δt at a spectral density of acceleration of
 * 1/h⁴), so that ten fixes a second, which share their error, weigh what one does. The reach h in seconds alone says
 * how far the smoothing goes; it may differ from fix to fix.
 */

/** Start of the filter, in variances of a fix: so uncertain that it says nothing. */
const DIFFUSE = 1e9;

export interface Smoothed {
  readonly value: Float64Array;
  /** Per second. */
  readonly rate: Float64Array;
}

/**
 * @param timeS increasing
 * @param columns of one length with the times, in any unit; the same unit comes out
 * @param reachS h, one a fix
 */
export function smoothColumns(
  timeS: Float64Array,
  columns: readonly Float64Array[],
  reachS: Float64Array,
): Smoothed[] {
  const gains = filterGains(timeS, reachS);
  return columns.map((column) => smoothOne(timeS, column, gains));
}

/** What the filter does whatever was measured; by step. */
interface Gains {
  /** Of the measurement, for value and rate. */
  readonly value: Float64Array;
  readonly rate: Float64Array;
  /** Of the backward pass from step k + 1 to k: G = P F' P⁻, row by row. */
  readonly back: Float64Array;
}

function filterGains(timeS: Float64Array, reachS: Float64Array): Gains {
  const count = timeS.length;
  const [value, rate, back] = [new Float64Array(count), new Float64Array(count), new Float64Array(4 * count)];
  // predicted covariance: [a b; b c]
  let [a, b, c] = [DIFFUSE, 0, DIFFUSE];
  for (let k = 0; k < count; k++) {
    const before = (timeS[k] as number) - (timeS[Math.max(0, k - 1)] as number);
    const after = (timeS[Math.min(count - 1, k + 1)] as number) - (timeS[k] as number);
    const standsForS = (before + after) / (before > 0 && after > 0 ? 2 : 1);
    const total = a + 1 / (standsForS > 0 ? standsForS : 1);
    const [g, q] = [a / total, b / total];
    value[k] = g;
    rate[k] = q;
    // filtered covariance
    const [fa, fb, fc] = [(1 - g) * a, (1 - g) * b, c - q * b];
    const dt = after;
    const density = 1 / (reachS[k] as number) ** 4;
    a = fa + 2 * dt * fb + dt * dt * fc + (density * dt ** 3) / 3;
    b = fb + dt * fc + (density * dt * dt) / 2;
    c = fc + density * dt;
    const determinant = a * c - b * b;
    if (!(determinant > 0)) continue;
    // P F' = [fa + dt·fb, fb; fb + dt·fc, fc], times the inverse of the predicted
    const [p, r] = [fa + dt * fb, fb + dt * fc];
    back[4 * k] = (p * c - fb * b) / determinant;
    back[4 * k + 1] = (fb * a - p * b) / determinant;
    back[4 * k + 2] = (r * c - fc * b) / determinant;
    back[4 * k + 3] = (fc * a - r * b) / determinant;
  }
  return { value, rate, back };
}

function smoothOne(timeS: Float64Array, column: Float64Array, gains: Gains): Smoothed {
  const count = column.length;
  const [value, rate] = [new Float64Array(count), new Float64Array(count)];
  // differences from the first, so that no digits of a degree are lost
  const origin = column[0] ?? 0;
  let [x, v] = [0, 0];
  for (let k = 0; k < count; k++) {
    if (k > 0) x += v * ((timeS[k] as number) - (timeS[k - 1] as number));
    const innovation = (column[k] as number) - origin - x;
    x += (gains.value[k] as number) * innovation;
    v += (gains.rate[k] as number) * innovation;
    value[k] = x;
    rate[k] = v;
  }
  for (let k = count - 2; k >= 0; k--) {
    const dt = (timeS[k + 1] as number) - (timeS[k] as number);
    const [ownX, ownV] = [value[k] as number, rate[k] as number];
    const dx = (value[k + 1] as number) - (ownX + dt * ownV);
    const dv = (rate[k + 1] as number) - ownV;
    value[k] = ownX + (gains.back[4 * k] as number) * dx + (gains.back[4 * k + 1] as number) * dv;
    rate[k] = ownV + (gains.back[4 * k + 2] as number) * dx + (gains.back[4 * k + 3] as number) * dv;
  }
  return { value: value.map((each) => each + origin), rate };
}
