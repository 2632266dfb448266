import type { Change } from '@/lib/reduction/corrections/change';
import type { Method } from '@/lib/reduction/reduceRun';
import { type WorldKey, worldKey } from '@/lib/run/world';
import {
  basesOf,
  type Candidate,
  candidates,
  dropCorrectionRuns,
  insertCorrectionRuns,
  type NewCorrectionRun,
} from '@/lib/store/correctionRuns';
import { correctionById, moveCorrection, type StoredCorrection } from '@/lib/store/corrections';
import { methodInEffect } from '../method/methodInEffect';
import { type ActiveProtocol, activeProtocol } from '../protocol/activeProtocol';
import type { Registry } from '../registry';
import { correctedRun } from './correctedRun';
import { fingerprintOf } from './fingerprint';
import { makeCorrection } from './makeCorrection';

const BATCH = 50;
const MOST_FAULTS_NAMED = 5;

/**
 * Works out what a correction makes of every run that counts or waits and was computed from the wrong value, and hands it
 * over for review. One that touches no run is made at once. Broken off and started again, it begins anew.
 */
export async function computeCorrection(
  registry: Registry,
  correctionId: string,
  report: (done: number, of: number) => void = () => undefined,
): Promise<void> {
  const correction = await correctionById(registry.db, correctionId);
  if (correction === null || correction.state !== 'computing') return;
  const { change } = correction;
  if (change === undefined) {
    await finish(registry, correction, { fault: 'What is to be changed cannot be read.', fingerprint: null });
    return;
  }
  const subject = { kind: change.kind, subjectId: correction.subjectId };
  const protocol = await activeProtocol(registry);
  const { fingerprint, count } = await fingerprintOf(registry.db, subject, protocol.id);
  await registry.db.$transaction((tx) => dropCorrectionRuns(tx, correctionId));
  const methods = new Map<WorldKey, Method>();
  const faults: string[] = [];
  let touched = 0;
  let done = 0;
  let last: string | undefined;
  for (;;) {
    const batch = await candidates(registry.db, subject, last, BATCH);
    const runs = await correctBatch(registry, batch, { change, protocol, methods, faults });
    await registry.db.$transaction((tx) =>
      insertCorrectionRuns(
        tx,
        runs.map((run) => ({ ...run, correctionId })),
      ),
    );
    touched += runs.length;
    done += batch.length;
    report(done, count);
    last = batch.at(-1)?.runId;
    if (batch.length < BATCH) break;
  }
  if (faults.length > 0) {
    const named = faults.slice(0, MOST_FAULTS_NAMED).join(' ');
    const fault = `${faults.length} ${faults.length === 1 ? 'run' : 'runs'} could not be computed: ${named}`;
    await finish(registry, correction, { fault, fingerprint });
    return;
  }
  if (touched === 0 && change.kind === 'run') {
    await giveUp(registry, correction);
    return;
  }
  await finish(registry, correction, { fault: null, fingerprint });
  if (touched === 0) await makeCorrection(registry, correction.id, 'It touches no run that counts or waits.');
}

async function correctBatch(
  registry: Registry,
  batch: readonly Candidate[],
  of: {
    change: Change;
    protocol: ActiveProtocol;
    methods: Map<WorldKey, Method>;
    faults: string[];
  },
): Promise<Omit<NewCorrectionRun, 'correctionId'>[]> {
  const bases = await basesOf(
    registry.db,
    batch.map(({ baseId }) => baseId),
  );
  const made: Omit<NewCorrectionRun, 'correctionId'>[] = [];
  for (const base of bases) {
    const world = worldKey(base.run.world);
    const method = of.methods.get(world) ?? (await methodInEffect(registry.db, world));
    of.methods.set(world, method);
    try {
      const run = await correctedRun(registry, base, of.change, { method, protocol: of.protocol });
      if (run !== undefined) made.push(run);
    } catch (error) {
      if (!(error instanceof Error)) throw error;
      of.faults.push(`run ${base.run.number}: ${error.message}`);
    }
  }
  return made;
}

async function finish(
  registry: Registry,
  { id, computation }: StoredCorrection,
  outcome: { fault: string | null; fingerprint: string | null },
): Promise<void> {
  const computedAt = registry.now();
  await registry.db.$transaction((tx) =>
    moveCorrection(tx, id, ['computing'], { state: 'waiting', computedAt, ...outcome }, computation),
  );
}

/** The run was retracted meanwhile: there is nothing left to correct. */
async function giveUp(registry: Registry, { id, computation }: StoredCorrection): Promise<void> {
  const gone = { decidedAt: registry.now(), decision: 'The run does not count any more.' };
  await registry.db.$transaction((tx) =>
    moveCorrection(tx, id, ['computing'], { state: 'withdrawn', ...gone }, computation),
  );
}
