/**
 * An energy model of its own to hold the engine against: a car driven over a loop in steps of one metre, with stops,
 * ramps, coasting, hills, wind by apparent air speed and yaw, and recuperation step by step. Nothing of lib/physics is
 * used; what the engine writes in mean squares, shares and braking falls is summed here force by force.
 */
export interface TestCar {
  massKg: number;
  dragAreaM2: number;
  rollingCoefficient: number;
  efficiency: number;
  yawPerRad2: number;
  recuperation: number;
  auxiliaryW: number;
}

export interface TestAir {
  densityKgM3: number;
  temperatureC: number;
  /** Along the outbound bearing (headwind on the way out) and across. */
  windAlongMps: number;
  windAcrossMps: number;
}

/** A place where the car must not be faster. */
export interface SpeedLimit {
  fromM: number;
  toM: number;
  mps: number;
}

export interface Habit {
  accelerateMps2: number;
  brakeMps2: number;
}

export interface DrivenLoop {
  distanceM: Float64Array;
  speedMps: Float64Array;
  timeS: Float64Array;
  energyWh: number;
}

const G = 9.80665;

/** Speed at every metre: no faster than any limit, reached with the driver's braking and acceleration. */
function speedSquares(lengthM: number, cruiseMps: number, limits: readonly SpeedLimit[], habit: Habit) {
  const square = new Float64Array(lengthM + 1).fill(cruiseMps ** 2);
  for (const { fromM, toM, mps } of limits) {
    for (let k = Math.round(fromM); k <= Math.min(lengthM, Math.round(toM)); k++) {
      square[k] = Math.min(square[k] as number, mps * mps);
    }
  }
  for (let k = lengthM - 1; k >= 0; k--) {
    square[k] = Math.min(square[k] as number, (square[k + 1] as number) + 2 * habit.brakeMps2);
  }
  for (let k = 1; k <= lengthM; k++) {
    square[k] = Math.min(square[k] as number, (square[k - 1] as number) + 2 * habit.accelerateMps2);
  }
  return square;
}

export function driveLoop(
  car: TestCar,
  air: TestAir,
  lengthM: number,
  cruiseMps: number,
  limits: readonly SpeedLimit[],
  habit: Habit,
): DrivenLoop {
  const square = speedSquares(lengthM, cruiseMps, limits, habit);
  const distanceM = new Float64Array(lengthM + 1);
  const timeS = new Float64Array(lengthM + 1);
  const rolling = (car.rollingCoefficient * car.massKg * G) / (1 + 8.6e-3 * (air.temperatureC - 20));
  let joules = 0;
  for (let k = 1; k <= lengthM; k++) {
    distanceM[k] = k;
    const [from, to] = [square[k - 1] as number, square[k] as number];
    const meanSpeed = (Math.sqrt(from) + Math.sqrt(to)) / 2;
    const dt = 1 / Math.max(meanSpeed, 0.05);
    timeS[k] = (timeS[k - 1] as number) + dt;
    const side = k <= lengthM / 2 ? 1 : -1;
    const head = Math.sqrt((from + to) / 2) + side * air.windAlongMps;
    const yaw = Math.atan2(air.windAcrossMps, head);
    const drag =
      0.5 *
      air.densityKgM3 *
      car.dragAreaM2 *
      (1 + car.yawPerRad2 * yaw * yaw) *
      (head * head + air.windAcrossMps ** 2);
    // out and back over the same hills, 6 m up and down: gentle enough that the car need not brake for them at its cruise
    const hill = side * car.massKg * G * 6 * ((2 * Math.PI) / 4000) * Math.cos((2 * Math.PI * k) / 4000);
    const wheel = 1.03 * car.massKg * ((to - from) / 2) + drag + rolling + hill;
    joules += (wheel > 0 ? wheel / car.efficiency : car.recuperation * wheel) + car.auxiliaryW * dt;
  }
  return { distanceM, speedMps: square.map(Math.sqrt), timeS, energyWh: joules / 3600 };
}

/** What the car takes at its class's steady speed: 20 °C, 1.189 kg/m³, calm and level, 500 W. */
export function steadyReferenceWhPerKm(car: TestCar, classMps: number): number {
  const force = 0.5 * 1.189 * car.dragAreaM2 * classMps ** 2 + car.rollingCoefficient * car.massKg * G;
  return (force / car.efficiency + 500 / classMps) / 3.6;
}

/** As a receiver would have it, once a second. */
export function sampled(drive: DrivenLoop, stepS = 1): { distanceM: number[]; speedMps: number[] } {
  const distanceM: number[] = [];
  const speedMps: number[] = [];
  const last = drive.timeS.length - 1;
  let k = 0;
  for (let t = 0; t <= (drive.timeS[last] as number); t += stepS) {
    while (k < last && (drive.timeS[k + 1] as number) < t) k++;
    const [t0, t1] = [drive.timeS[k] as number, drive.timeS[Math.min(last, k + 1)] as number];
    const share = t1 > t0 ? (t - t0) / (t1 - t0) : 0;
    const at = (column: Float64Array) => {
      const [a, b] = [column[k] as number, column[Math.min(last, k + 1)] as number];
      return a + share * (b - a);
    };
    distanceM.push(at(drive.distanceM));
    speedMps.push(at(drive.speedMps));
  }
  return { distanceM, speedMps };
}
