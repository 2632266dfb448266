/**
 * The zero of an increasing function inside a bracket, by the Illinois form of regula falsi.
 * Dowell M., Jarratt P. (1971), BIT 11, 168.
 */
export function solveIncreasing(f: (x: number) => number, low: number, high: number): number {
  let [a, b] = [low, high];
  let [fa, fb] = [f(a), f(b)];
  if (fa >= 0) return a;
  if (fb <= 0) return b;
  let side = 0;
  for (let i = 0; i < 100; i++) {
    const x = (a * fb - b * fa) / (fb - fa);
    const fx = f(x);
    if (Math.abs(b - a) <= 1e-9 * Math.abs(x) || Math.abs(fx) < 1e-12) return x;
    if (fx < 0) {
      if (Math.abs(x - a) <= 1e-10 * Math.abs(x)) return x;
      [a, fa] = [x, fx];
      if (side === -1) fb /= 2;
      side = -1;
    } else {
      if (Math.abs(x - b) <= 1e-10 * Math.abs(x)) return x;
      [b, fb] = [x, fx];
      if (side === 1) fa /= 2;
      side = 1;
    }
  }
  return (a + b) / 2;
}
