import { authorise } from '@/lib/access/authorise';
import { requireStrongPassword } from '@/lib/registry/accounts/password';
import { ensureReferenceData } from '@/lib/registry/protocol/activeProtocol';
import type { Registry } from '@/lib/registry/registry';
import { runJobsNow } from '@/lib/registry/runJobs';
import { Conflict } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
import { countAccounts } from '@/lib/store/accounts';
import { completeDemoMarker, placeDemoMarker, readDemoMarker } from './load/demoMarker';
import { eventsOf, wordsOf } from './load/events';
import { found, loadFleet } from './load/loadFleet';
import { loadPeople } from './load/loadPeople';
import { playRequestEvent } from './load/loadRequests';
import { RunLoader } from './load/loadRuns';
import { playStudyEvent } from './load/loadStudies';
import { mapDemoLevels } from './load/mapLevels';
import { registryAt } from './load/simulatedTime';
import { generateDemoWorld } from './world/generateDemoWorld';
import { recordedRuns, recordingOf } from './world/recordings';
import { FIRST_DAY_MS } from './world/schedule';
import type { DemoWorld } from './world/types';

export const DEMO_SEED = 20_261_031;

const DAY_MS = 86_400_000;
const EVENTS_A_REPORT = 200;
const EVENTS_AHEAD = 10;

export interface LoadOptions {
  /** Of every demo account. */
  password: string;
  /** An account that is there already and may give roles; not needed in an empty registry. */
  steward?: Actor;
  seed?: number;
  scale?: 'full' | 'small';
  /** Told how far it is, in whole lines. */
  report?: (line: string) => void;
}

/** The demo world broke off: what it had made stays, marked as demo. */
export class DemoLoadBroken extends Error {
  constructor(doing: string, cause: unknown) {
    const why = cause instanceof Error ? cause.message : String(cause);
    super(
      `Loading the demo world broke off ${doing}: ${why} What was loaded up to then stays, marked as demo, and cannot be continued: start again on an empty data folder.`,
      { cause },
    );
    this.name = 'DemoLoadBroken';
  }
}

/**
 * Brings the demo world into the registry, every step through the same use cases that people use, each at its own
 * time of the past fourteen months, and then fits the rankings. Refuses where the demo world already is.
 */
export async function loadDemoWorld(registry: Registry, options: LoadOptions): Promise<DemoWorld> {
  const { seed = DEMO_SEED, scale = 'full', report = () => {} } = options;
  // whatever can be refused is refused before anything is written
  if ((await countAccounts(registry.db)) > 0) authorise(options.steward, 'loadDemoWorld');
  requireStrongPassword(options.password, 'password', []);
  await refuseSecondLoad(registry);
  const world = generateDemoWorld({ seed, scale });
  const early = registryAt(registry, FIRST_DAY_MS - 14 * DAY_MS);
  await ensureReferenceData(early);
  if (!(await placeDemoMarker(registry.db, { state: 'loading', seed, scale })))
    await refuseSecondLoad(registry);

  let doing = 'while opening the accounts';
  try {
    const people = await loadPeople(early, world.people, options.password, options.steward);
    report(`${people.size} accounts of the ${world.country}.`);
    doing = 'while adding models, cars and loops';
    const fleet = await loadFleet(early, world, people);
    report(`${world.models.length} models, ${world.cars.length} cars, ${world.loops.length} loops.`);

    doing = 'while mapping levels to shared ones';
    const steward = world.people.find(({ role }) => role === 'steward');
    await mapDemoLevels(early, found(people, steward?.key ?? ''), fleet);

    const events = eventsOf(world);
    const recorded = recordedRuns(world);
    const recordings = world.runs
      .filter((run) => recorded.has(run.key))
      .map((run) => [run.key, () => recordingOf(world, run)] as const);
    const studies = {
      people,
      fleet,
      world,
      requestIds: new Map<string, string>(),
      studyIds: new Map<string, string>(),
    };
    const loader = new RunLoader(registry, people, fleet, new Map(recordings));
    for (const [index, event] of events.entries()) {
      doing = `at event ${index + 1} of ${events.length} (${wordsOf(event)})`;
      loader.prepare(events[index + EVENTS_AHEAD]);
      if ('run' in event) await loader.play(event);
      else if ('study' in event) await playStudyEvent(registry, studies, event);
      else await playRequestEvent(registry, studies, event);
      if ((index + 1) % EVENTS_A_REPORT === 0) {
        report(
          `${index + 1} of ${events.length} events, now ${new Date(event.at).toISOString().slice(0, 10)}.`,
        );
      }
    }
    doing = 'while fitting the rankings';
    const jobs = await runJobsNow(registryAt(registry, (events.at(-1)?.at ?? FIRST_DAY_MS) + DAY_MS));
    report(`${world.runs.length} runs, ${world.studies.length} studies; ${jobs} jobs of fitting done.`);
    await completeDemoMarker(registry.db, { state: 'loaded', seed, scale });
  } catch (error) {
    throw new DemoLoadBroken(doing, error);
  }
  return world;
}

async function refuseSecondLoad(registry: Registry): Promise<void> {
  const marker = await readDemoMarker(registry.db);
  if (marker === undefined) return;
  throw new Conflict(
    marker.state === 'loaded'
      ? 'The demo world is in this registry already.'
      : 'A former load of the demo world broke off half-way or is still going on. If nothing is loading, start again on an empty data folder.',
  );
}
