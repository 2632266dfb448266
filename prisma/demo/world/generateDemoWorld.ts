import { CRUISE_CLASSES } from '@/lib/run/cruiseClass';
import { CAR_SPREAD, makeCars } from './cars';
import { COMPARISONS } from './comparisons';
import { drawnLoop, drawnModel } from './drawnTruth';
import { type DrivenRun, driveSession, REPEATABILITY, SESSION_SPREAD } from './drive';
import { plantFaults } from './faults';
import { referenceWhPerKm } from './forwardModel';
import { LOOPS } from './loops';
import { MODELS } from './models';
import { COUNTRY, PEOPLE } from './people';
import { PriorDraws, type TruthOptions } from './priorDraws';
import { RandomStream } from './randomStream';
import { fillForm, type Odometer } from './readings';
import { REQUESTS } from './requests';
import { type PlannedSession, planSessions } from './schedule';
import { studiesOf } from './studies';
import { duplicateOf, submissionsOf } from './submissions';
import type { DemoRun, DemoTruth, DemoWorld, TrueRun } from './types';

export interface DemoWorldOptions {
  seed: number;
  /** `small` keeps everyone and everything but only a tenth of the runs. */
  scale?: 'full' | 'small';
  /** How far the truth departs from the priors; as far as they say unless given. */
  truth?: TruthOptions;
}

/**
 * Makes the invented republic with its testers, cars, loops and runs. Pure: the same seed gives the same world, and
 * the truth behind every reading is kept beside it.
 */
export function generateDemoWorld({ seed, scale = 'full', truth }: DemoWorldOptions): DemoWorld {
  const draws = new PriorDraws(seed, truth);
  const models = MODELS.map((model) => drawnModel(draws, model));
  const loops = LOOPS.map((loop) => drawnLoop(draws, loop));
  const cars = makeCars(seed);
  const comparisons =
    scale === 'full'
      ? COMPARISONS
      : COMPARISONS.filter(
          ({ cruiseClassKey, modelKey }) => cruiseClassKey === 'kmh-110' && modelKey === 'godwit',
        );
  const sessions = planSessions(seed, cars, loops, comparisons);
  const keptOnly = countBySetup(sessions);
  const candidates = sessions.flatMap((session) =>
    session.setupKeys.flatMap((setupKey, index) =>
      (keptOnly.get(`${setupKey} ${session.cruiseClassKey}`) ?? 0) > 2
        ? [{ key: `${session.key} ${index + 1}`, modelKey: session.car.modelKey }]
        : [],
    ),
  );
  const faults = plantFaults(seed, candidates, scale);

  const sessionLogEffect: Record<string, number> = {};
  const driven: DrivenRun[] = [];
  for (const session of sessions) {
    const result = driveSession(seed, draws, session, models, (key) => faults.get(key)?.fault);
    sessionLogEffect[session.key] = result.sessionLogEffect;
    driven.push(...result.runs);
  }
  driven.sort((a, b) => a.startedAtMs - b.startedAtMs || (a.key < b.key ? -1 : 1));

  const odometers = new Map<string, Odometer>();
  const waiting = lastGoodRuns(driven, faults, scale === 'full' ? 3 : 1);
  const runs: DemoRun[] = driven.map((run) => {
    const { session } = run;
    const odometer = odometers.get(session.car.key) ?? firstOdometer(seed, session.car.key);
    odometers.set(session.car.key, odometer);
    const form = fillForm(seed, draws, run, odometer);
    return {
      ...identityOf(run),
      draftForm: undefined,
      revisions: submissionsOf(seed, run, form, faults.get(run.key), waiting.has(run.key)),
      retraction: undefined,
    };
  });
  addRetraction(runs, faults);
  addDuplicate(seed, runs, faults);
  addDrafts(seed, draws, runs, driven, scale === 'full' ? 2 : 1);

  return {
    seed,
    country: COUNTRY,
    people: PEOPLE,
    models,
    cars,
    loops,
    runs,
    requests: REQUESTS,
    studies: studiesOf(new Set(sessions.map(({ key }) => key))),
    truth: truthOf(models, cars, sessionLogEffect, driven),
  };
}

function identityOf(run: DrivenRun) {
  const { session } = run;
  return {
    key: run.key,
    testerKey: session.car.ownerKey,
    carKey: session.car.key,
    setupKey: run.setup.key,
    loopKey: session.loop.key,
    cruiseClassKey: session.cruiseClassKey,
    sessionKey: session.key,
    startedAt: new Date(run.startedAtMs).toISOString(),
  };
}

function countBySetup(sessions: readonly PlannedSession[]): Map<string, number> {
  const counts = new Map<string, number>();
  for (const { setupKeys, cruiseClassKey } of sessions) {
    for (const setupKey of setupKeys) {
      const key = `${setupKey} ${cruiseClassKey}`;
      counts.set(key, (counts.get(key) ?? 0) + 1);
    }
  }
  return counts;
}

function firstOdometer(seed: number, carKey: string): Odometer {
  return { shownM: new RandomStream(seed, `odometer ${carKey}`).uniform(9e6, 6.5e7) };
}

/** The last good run of each of the testers who drove last: they wait in the queue, claimed by nobody. */
function lastGoodRuns(
  driven: readonly DrivenRun[],
  faults: ReadonlyMap<string, unknown>,
  count: number,
): Set<string> {
  const keys = new Set<string>();
  const owners = new Set<string>();
  for (const run of [...driven].reverse()) {
    const owner = run.session.car.ownerKey;
    if (keys.size === count) break;
    if (faults.has(run.key) || owners.has(owner)) continue;
    owners.add(owner);
    keys.add(run.key);
  }
  return keys;
}

function goodRunNear(runs: readonly DemoRun[], faults: ReadonlyMap<string, unknown>, share: number): number {
  const from = Math.floor(share * runs.length);
  const at = runs.findIndex(
    (run, index) => index >= from && !faults.has(run.key) && run.revisions[0]?.review?.kind === 'approve',
  );
  if (at < 0) throw new Error('no good run is left to build on');
  return at;
}

function addRetraction(runs: DemoRun[], faults: ReadonlyMap<string, unknown>): void {
  const at = goodRunNear(runs, faults, 0.4);
  const run = runs[at] as DemoRun;
  const approvedAt = run.revisions[0]?.review?.decidedAt ?? run.startedAt;
  runs[at] = {
    ...run,
    retraction: {
      at: new Date(Date.parse(approvedAt) + 9 * 86_400_000).toISOString(),
      reason:
        'The tyre gauge was found to read 0.3 bar high: the pressures of that day were below the placard.',
    },
  };
}

function addDuplicate(seed: number, runs: DemoRun[], faults: ReadonlyMap<string, unknown>): void {
  const original = runs[goodRunNear(runs, faults, 0.55)] as DemoRun;
  const key = `${original.key} again`;
  const revision = original.revisions[0];
  if (revision === undefined) throw new Error('an approved run has no revision');
  runs.push({ ...original, key, revisions: [duplicateOf(seed, key, revision)], retraction: undefined });
}

/** Two forms begun and not finished. */
function addDrafts(
  seed: number,
  draws: PriorDraws,
  runs: DemoRun[],
  driven: readonly DrivenRun[],
  count: number,
): void {
  const late = driven.slice(-10 * count);
  for (let i = 0; i < count; i++) {
    const run = late[i * 10];
    if (run === undefined) throw new Error('too few runs to draft another');
    const full = fillForm(seed, draws, run, firstOdometer(seed, run.session.car.key));
    const startedAtMs = Math.max(...driven.map((each) => each.startedAtMs)) + (i + 1) * 3_600_000;
    const kept = [
      'cruiseClassKey',
      'utcOffsetMin',
      'chargeStart',
      'loadMass',
      'climate',
      'pressureFront',
      'pressureRear',
    ];
    const draftForm: Record<string, string> = {
      startedAtLocal: new Date(startedAtMs + 3_600_000).toISOString().slice(0, 16),
    };
    for (const name of [...kept, 'pressureFrontUnit', 'pressureRearUnit']) draftForm[name] = full[name] ?? '';
    if (i === 0)
      Object.assign(draftForm, {
        tripDistance: full.tripDistance,
        tripDistanceUnit: full.tripDistanceUnit,
      });
    runs.push({
      ...identityOf(run),
      key: `${run.key} draft`,
      startedAt: new Date(startedAtMs).toISOString(),
      draftForm,
      revisions: [],
      retraction: undefined,
    });
  }
}

function truthOf(
  models: DemoWorld['models'],
  cars: DemoWorld['cars'],
  sessionLogEffect: Record<string, number>,
  driven: readonly DrivenRun[],
): DemoTruth {
  const reference: Record<string, Record<string, number>> = {};
  const factorEffect: Record<string, Record<string, number>> = {};
  for (const { setups } of models) {
    for (const setup of setups) {
      const values: Record<string, number> = {};
      const effects: Record<string, number> = {};
      for (const { key, speedMps } of CRUISE_CLASSES) {
        const baseline = setups[0] ?? setup;
        values[key] = referenceWhPerKm(setup.truth, speedMps);
        effects[key] = Math.log((values[key] ?? 0) / referenceWhPerKm(baseline.truth, speedMps));
      }
      reference[setup.key] = values;
      factorEffect[setup.key] = effects;
    }
  }
  const runs: Record<string, TrueRun> = {};
  for (const run of driven) runs[run.key] = run.truth;
  return {
    referenceWhPerKm: reference,
    factorLogEffect: factorEffect,
    carLogEffect: Object.fromEntries(cars.map((car) => [car.key, car.logEffect])),
    sessionLogEffect,
    runs,
    spread: { car: CAR_SPREAD, session: SESSION_SPREAD, repeatability: REPEATABILITY },
  };
}
