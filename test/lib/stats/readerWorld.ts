import { createRandom, drawNormal } from '@/lib/numerics/random';
import type { FitRow } from '@/lib/stats/fitRow';
import type { ReaderAnswer } from '@/lib/stats/readerEstimate';

/** Two setups, the errors that all of their runs share, and what a reader asks of them. */

export const SD = { car: 0.03, session: 0.015, run: 0.01, u: 0.004 };
/** Drag, of the model, acts on both setups nearly alike; a method's input moves with the day. */
const DRAG = [0.012, 0.011] as const;
const perDay = (car: number, day: number) => 0.004 + 0.003 * ((car + 2 * day) % 3);

interface World {
  rows: FitRow[];
  drag: number;
  method: number;
}

/** Two setups, every car driving both on each day; shared errors are drawn once and stand in every run. */
export function world(seed: number, cars = 7, days = 2): World {
  const random = createRandom(seed);
  const [drag, method] = [drawNormal(random), drawNormal(random)];
  const rows: FitRow[] = [];
  for (let c = 0; c < cars; c++) {
    const ofCar = SD.car * drawNormal(random);
    for (let s = 0; s < days; s++) {
      const ofDay = SD.session * drawNormal(random);
      for (const setup of [0, 1, 0]) {
        const shared = [
          { key: 'drag of model', scope: 'model' as const, contribution: DRAG[setup] as number },
          { key: 'warmth of method', scope: 'method' as const, contribution: perDay(c, s) },
        ];
        rows.push({
          setup: `setup ${setup}`,
          car: `car ${c}`,
          loop: 'loop',
          session: `day ${s}`,
          model: 'model',
          z:
            5 -
            0.03 * setup +
            ofCar +
            ofDay +
            Math.hypot(SD.run, SD.u) * drawNormal(random) +
            (DRAG[setup] as number) * drag +
            perDay(c, s) * method,
          u: SD.u,
          shared,
        });
      }
    }
  }
  return { rows, drag, method };
}

export const GAIN = 0.9;
export const DIRECT = { drag: -0.006, method: 0.01, habit: 0.008 };
export const answer = (setup: number, changes: Partial<ReaderAnswer> = {}): ReaderAnswer => ({
  setup: `setup ${setup}`,
  gain: GAIN,
  direct: [
    { key: 'drag of model', scope: 'model', contribution: DIRECT.drag },
    { key: 'warmth of method', scope: 'method', contribution: DIRECT.method },
    { key: 'heating of reader', scope: 'car', contribution: DIRECT.habit },
  ],
  car: 'reader',
  ...changes,
});
export const one = (setup: number, changes: Partial<ReaderAnswer> = {}) => [
  { weight: 1, answer: answer(setup, changes) },
];
