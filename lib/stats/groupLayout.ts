import type { Structure } from './structure';

/** (session, setup) cells that hold two runs or more: where repeatability is seen directly. */
export function replicatedCells(s: Structure): number {
  let cells = 0;
  for (let ses = 0; ses < s.sessions; ses++) {
    const runs = new Map<number, number>();
    for (let i = s.cellOfSession[ses] as number; i < (s.cellOfSession[ses + 1] as number); i++) {
      const k = s.cellSetup[i] as number;
      runs.set(k, (runs.get(k) ?? 0) + (s.count[i] as number));
    }
    for (const n of runs.values()) if (n > 1) cells++;
  }
  return cells;
}

/** Physical cars that drove two loops or more. */
export function carsOnTwoLoops(s: Structure): number {
  let cars = 0;
  for (let t = 0; t < s.cars; t++) {
    if ((s.loopOfCar[t + 1] as number) - (s.loopOfCar[t] as number) > 1) cars++;
  }
  return cars;
}
