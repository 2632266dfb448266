import { type WorldKey, worldKey } from '@/lib/run/world';
import { carOnLoop } from '@/lib/stats/modelRuns';
import {
  type CarOnLoopRow,
  carsBesideEachOther,
  countSetupClass,
  type DensityRow,
  densityOfSetupClass,
  type SetupClassCounts,
} from '@/lib/store/setupPages';
import { shownLabel } from '../counted/countedLabel';
import type { Registry } from '../registry';
import { type PublicRun, readPublicRuns } from '../runs/publicRuns';

/** A car on one of its loops, as readers get it: a car's own name is its tester's affair. */
export interface ShownCar {
  /** Its tester, numbered where the tester has several. */
  car: string;
  /** Car on its loop, as the spread names it. */
  carKey: string;
  loopName: string;
}

/** The runs of one car on one loop on one day. */
export interface SetupSession extends ShownCar {
  sessionId: string;
  carId: string;
  date: string;
  runs: Pick<PublicRun, 'number' | 'measuredWhPerKm' | 'normalisedWhPerKm'>[];
}

export type RunDensity = DensityRow;

export interface SetupSessions {
  counts: SetupClassCounts;
  /** By car, then by day; the latest where there are too many to draw. */
  sessions: SetupSession[];
  /** Of all runs of the class where not all of them are in `sessions`. */
  density: RunDensity | undefined;
  /** The cars of these sessions on their loops, by key, with others of the same testers; not for the page. */
  cars: Map<string, ShownCar>;
}

/** More than these are not read one by one: a figure of more dots shows no more than how dense they lie. */
const MOST_DRAWN_RUNS = 500;
const MOST_DRAWN_SESSIONS = 50;
const DENSITY_BINS = 60;

/**
 * The runs of a setup in one class by car and day, and how all of them lie where they are too many.
 *
 * @param alsoNamed cars on a loop to give names to besides those drawn
 */
export async function readSetupSessions(
  registry: Registry,
  setup: { id: string; world: string },
  cruiseClassKey: string,
  alsoNamed: readonly string[],
): Promise<SetupSessions> {
  const world: WorldKey = worldKey(setup.world);
  const of = {
    setupId: setup.id,
    cruiseClassKey,
    world,
    methodVersion: await shownLabel(registry.db, world),
  };
  const [counts, latest] = await Promise.all([
    countSetupClass(registry.db, of),
    readPublicRuns(registry, { setupIds: [setup.id], cruiseClassKey, world }, MOST_DRAWN_RUNS),
  ]);
  const carIds = new Set([
    ...latest.map(({ carId }) => carId),
    ...alsoNamed.map((key) => key.split(' ')[0] ?? key),
  ]);
  const cars = shownCars(await carsBesideEachOther(registry.db, of, [...carIds]));
  const sessions = sessionsOf(latest, cars, counts.runs > latest.length);
  const drawn = sessions.reduce((sum, session) => sum + session.runs.length, 0);
  return {
    counts,
    sessions,
    density: drawn < counts.runs ? await densityOfSetupClass(registry.db, of, DENSITY_BINS) : undefined,
    cars,
  };
}

function sessionsOf(
  latest: readonly PublicRun[],
  cars: ReadonlyMap<string, ShownCar>,
  areMore: boolean,
): SetupSession[] {
  const found = new Map<string, SetupSession>();
  for (const run of latest) {
    const carKey = carOnLoop(run.carId, run.loopId);
    const known = found.get(run.sessionId);
    const { number, measuredWhPerKm, normalisedWhPerKm } = run;
    const own = { number, measuredWhPerKm, normalisedWhPerKm };
    if (known !== undefined) known.runs.push(own);
    else
      found.set(run.sessionId, {
        sessionId: run.sessionId,
        carId: run.carId,
        ...(cars.get(carKey) ?? { car: run.testerName, carKey, loopName: run.loopName }),
        date: run.date,
        runs: [own],
      });
  }
  // Where the reading stopped, the sessions of the earliest day read may lack runs; one day alone is drawn as it is.
  const earliest = latest.at(-1)?.date;
  const all = [...found.values()];
  const whole = areMore ? all.filter(({ date }) => date !== earliest) : all;
  return (whole.length > 0 ? whole : all)
    .slice(0, MOST_DRAWN_SESSIONS)
    .sort(
      (a, b) =>
        a.car.localeCompare(b.car) || a.date.localeCompare(b.date) || a.loopName.localeCompare(b.loopName),
    );
}

function shownCars(rows: readonly CarOnLoopRow[]): Map<string, ShownCar> {
  const names = carNames(rows);
  return new Map(
    rows.map(({ carId, loopId, loopName, testerName }) => {
      const carKey = carOnLoop(carId, loopId);
      return [carKey, { car: names.get(carId) ?? testerName, carKey, loopName }];
    }),
  );
}

/** Readers get the tester and, where needed, a number: the car with the latest run is the first. */
function carNames(rows: readonly CarOnLoopRow[]): Map<string, string> {
  const byTester = new Map<string, Set<string>>();
  for (const { carId, testerName } of rows) {
    const own = byTester.get(testerName);
    if (own === undefined) byTester.set(testerName, new Set([carId]));
    else own.add(carId);
  }
  return new Map(
    [...byTester].flatMap(([tester, cars]) =>
      [...cars].map((carId, index): [string, string] => [
        carId,
        cars.size === 1 ? tester : `${tester}, car ${index + 1}`,
      ]),
    ),
  );
}
