import { createRandom, drawNormal } from '@/lib/numerics/random';
import { youngClassSpread } from '@/lib/physics/priors';
import { fitClassComponents } from '@/lib/stats/classComponents';
import type { ApprovedRun, UsedComponents } from '@/lib/stats/holds/predictInTurn';
import { columnsOf } from '@/lib/stats/runColumns';
import { readyColumns } from '@/lib/stats/sessionSpread';
import { layOutColumns } from '@/lib/stats/structure';

export interface ClassShape {
  models: number;
  carsEach: number;
  setupsEach: number;
  sessions: number;
  loops: number;
  runs: number;
  sdCar: number;
  sdSession: number;
  sdRun: number;
  /** Times that of the others that a car's runs scatter. */
  scatterOf?: (car: number) => number;
}

export const PLAIN: ClassShape = {
  models: 3,
  carsEach: 5,
  setupsEach: 4,
  sessions: 4,
  loops: 2,
  runs: 4,
  sdCar: 0.015,
  sdSession: 0.012,
  sdRun: 0.008,
};

/** A class drawn from the model itself, its sessions driven in turn by all cars and approved a day apart. */
export function simulateClass(shape: ClassShape, seed: number): ApprovedRun[] {
  const random = createRandom(seed);
  const cars = Array.from({ length: shape.models * shape.carsEach }, () => shape.sdCar * drawNormal(random));
  const rows: ApprovedRun[] = [];
  for (let day = 0; day < shape.sessions; day++) {
    cars.forEach((ofCar, car) => {
      const session = shape.sdSession * drawNormal(random);
      const model = car % shape.models;
      for (let r = 0; r < shape.runs; r++) {
        const setup = (car + day + r) % shape.setupsEach;
        const u = 0.003 * (0.5 + random.next());
        const run = (shape.scatterOf?.(car) ?? 1) * Math.hypot(shape.sdRun, u) * drawNormal(random);
        rows.push({
          setup: `m${model}/s${setup}`,
          model: `m${model}`,
          car: `car ${car}`,
          tester: `tester ${Math.floor(car / 2)}`,
          loop: `loop ${day % shape.loops}`,
          session: `day ${day}`,
          z: 5 + 0.1 * model + 0.01 * setup + ofCar + session + run,
          u,
          approvedAtMs: 86_400_000 * (day * cars.length + car) + 1000 * r,
        });
      }
    });
  }
  return rows;
}

export const REFIT = { priors: youngClassSpread() };

/** Components as the class's published fit has them. */
export function publishedOf(rows: readonly ApprovedRun[]): UsedComponents {
  const ready = readyColumns(columnsOf(rows));
  const { fitted } = fitClassComponents(layOutColumns(ready), ready, REFIT);
  return { components: fitted.components, covariance: fitted.covariance };
}
