import { describe, expect, it } from 'vitest';
import { leaveOutCars } from '@/lib/stats/holds/leaveOutCar';
import { type ApprovedRun, predictInTurn, type UsedComponents } from '@/lib/stats/holds/predictInTurn';
import { type DenseFit, denseFit, invert, type Matrix, multiply } from '../dense';
import { PLAIN, simulateClass } from './approvedRuns';

// The dense model of dense.ts, written out with N × N matrices, is the independent computation here.
const components = { car: 0.0002, carLoop: 0.00005, session: 0.00015, residual: 0.00006 };
const held: UsedComponents = { components, covariance: new Float64Array(16) };
const rows = simulateClass({ ...PLAIN, models: 2, carsEach: 3, sessions: 3 }, 5);

/** Residuals (P_BB)⁻¹(Pz)_B of some runs against all the others, with their covariance (P_BB)⁻¹. */
function leftOut({ P, z }: DenseFit, block: readonly number[]): { residual: number[]; covariance: Matrix } {
  const pz = block.map((i) => (P[i] as number[]).reduce((sum, x, j) => sum + x * (z[j] as number), 0));
  const { inverse } = invert(block.map((i) => block.map((j) => P[i]?.[j] as number)));
  const residual = multiply(
    inverse,
    pz.map((x) => [x]),
  ).map(([x]) => x as number);
  return { residual, covariance: inverse };
}

/** L⁻¹x by forward substitution, with L from the textbook's recurrence. */
function whiten(covariance: Matrix, x: readonly number[]): number[] {
  const lower: number[][] = [];
  const white: number[] = [];
  covariance.forEach((row, i) => {
    const own: number[] = [];
    for (let j = 0; j <= i; j++) {
      const other = j === i ? own : (lower[j] as number[]);
      const sum = own.slice(0, j).reduce((rest, y, k) => rest - y * (other[k] as number), row[j] as number);
      own.push(i === j ? Math.sqrt(sum) : sum / (other[j] as number));
    }
    lower.push(own);
    const rest = white.reduce((left, y, k) => left - y * (own[k] as number), x[i] as number);
    white.push(rest / (own[i] as number));
  });
  return white;
}

describe('a session predicted from what was approved before it', () => {
  it('whitens the residuals of the dense model, session by session', () => {
    const { predicted } = predictInTurn(rows, held);
    expect(predicted.length).toBeGreaterThan(50);
    const sessionOf = ({ car, loop, session }: ApprovedRun) => `${car} ${loop} ${session}`;
    for (const key of new Set(predicted.map(({ run }) => sessionOf(run)))) {
      const block = predicted.filter(({ run }) => sessionOf(run) === key);
      const from = Math.min(...rows.filter((row) => sessionOf(row) === key).map((row) => row.approvedAtMs));
      const before = rows.filter((row) => row.approvedAtMs < from);
      const all = [...before, ...block.map(({ run }) => run)];
      const { residual, covariance } = leftOut(
        denseFit(all, components),
        block.map((_, i) => before.length + i),
      );
      whiten(covariance, residual).forEach((value, i) => {
        expect(block[i]?.innovation.value).toBeCloseTo(value, 7);
        expect(block[i]?.innovation.df).toBe(Number.POSITIVE_INFINITY);
      });
    }
  });

  it('knows nothing of what was approved later, nor of its own session', () => {
    const known = predictInTurn(rows, held).predicted;
    const late = Math.max(...rows.map((row) => row.approvedAtMs)) / 2;
    const moved = rows.map((row) => (row.approvedAtMs > late ? { ...row, z: row.z + 0.3 } : row));
    const again = predictInTurn(moved, held).predicted;
    const until = known.filter(({ run }) => run.approvedAtMs <= late);
    expect(until.length).toBeGreaterThan(20);
    until.forEach(({ innovation }, i) => {
      expect(again[i]?.innovation.value).toBeCloseTo(innovation.value, 9);
    });
  });

  it('predicts no run of a setup that had none, and says how many sessions that leaves out', () => {
    const found = predictInTurn(rows, held);
    const first = rows.filter((row) => row.approvedAtMs < 86_400_000);
    expect(found.predicted.some(({ run }) => first.includes(run))).toBe(false);
    const sessions = new Set(rows.map((row) => `${row.car} ${row.session}`)).size;
    expect(found.sessions + found.notPredicted).toBe(sessions);
    expect(found.notPredicted).toBeGreaterThan(0);
  });

  it('gives early predictions few degrees of freedom and later ones more', () => {
    const { predicted, refits } = predictInTurn(rows, { refitWith: {} });
    expect(refits).toBeGreaterThan(3);
    const [early, late] = [predicted[4], predicted.at(-1)];
    expect(early?.innovation.df).toBeGreaterThanOrEqual(1);
    expect(early?.innovation.df).toBeLessThan(late?.innovation.df as number);
    expect(late?.innovation.df).toBeLessThan(200);
  });
});

describe('a car predicted from the others', () => {
  it('is the generalised mean of the dense model’s residuals', () => {
    const found = leaveOutCars(rows, held);
    expect(found).toHaveLength(6);
    const dense = denseFit(rows, components);
    for (const { car, level, innovation } of found) {
      const block = rows.flatMap((row, i) => (row.car === car ? [i] : []));
      const { residual, covariance } = leftOut(dense, block);
      const { inverse } = invert(block.map((i) => block.map((j) => dense.V[i]?.[j] as number)));
      const weights = inverse.map((row) => row.reduce((sum, x) => sum + x, 0));
      const total = weights.reduce((sum, w) => sum + w, 0);
      const d = weights.reduce((sum, w, i) => sum + w * (residual[i] as number), 0);
      const variance = multiply(
        multiply([weights], covariance),
        weights.map((w) => [w]),
      )[0]?.[0] as number;
      expect(level).toBeCloseTo(d / total, 8);
      expect(innovation.value).toBeCloseTo(d / Math.sqrt(variance), 7);
    }
  });

  it('is not asked of a car that alone drove its setups', () => {
    const alone = rows.map((row) => (row.car === 'car 0' ? { ...row, setup: `own ${row.setup}` } : row));
    expect(leaveOutCars(alone, held).map(({ car }) => car)).not.toContain('car 0');
  });
});
