import { countOutcomes } from '@/lib/protocol/evaluate';
import { reduceRun } from '@/lib/reduction/reduceRun';
import { type WorldKey, worldKey } from '@/lib/run/world';
import { basesOf } from '@/lib/store/correctionRuns';
import type { Queryable } from '@/lib/store/database';
import { enqueueJob } from '@/lib/store/jobs';
import { type NewJudgement, replaceJudgements, revisionsToJudge } from '@/lib/store/judgements';
import { judgeBase, recordOf } from '../corrections/correctedRun';
import { methodInEffect } from '../method/methodInEffect';
import { activeProtocol } from '../protocol/activeProtocol';
import type { Registry } from '../registry';

/** Jobs of this kind judge a world's runs by what is in force today; their key is the world. */
export const JUDGE_AGAIN_JOB = 'judgeAgain';

const BATCH = 50;

export async function requestJudging(db: Queryable, world: WorldKey, at: Date): Promise<void> {
  await enqueueJob(db, JUDGE_AGAIN_JOB, world, at);
}

/**
 * Judges every run that counts or waits by the protocol and the method in effect, and keeps what would fail. Nothing is
 * taken out by it: the findings that a run was reviewed with stay. One that cannot be computed is passed over.
 */
export async function judgeAgain(
  registry: Registry,
  key: string,
  report: (done: number) => void = () => undefined,
): Promise<number> {
  const world = worldKey(key);
  const protocol = await activeProtocol(registry);
  const method = await methodInEffect(registry.db, world);
  const by = { protocolVersionId: protocol.id, methodVersion: method.label };
  let done = 0;
  let last: string | undefined;
  for (;;) {
    const batch = await revisionsToJudge(registry.db, { ...by, world }, last, BATCH);
    const bases = await basesOf(
      registry.db,
      batch.map(({ baseId }) => baseId),
    );
    const judged: NewJudgement[] = [];
    for (const base of bases) {
      if (base.inputs === null || !base.inputs.ok) continue;
      const record = recordOf(base, base.form);
      if (record === undefined) continue;
      const reduced = reduceRun(base.inputs.snapshot, method);
      const findings = await judgeBase(registry, base, { as: record, reduced, protocol });
      const counts = countOutcomes(findings);
      judged.push({
        ...by,
        revisionId: base.id,
        judgedAt: registry.now(),
        fails: counts.fail,
        cautions: counts.caution,
        failed: findings.filter(({ outcome }) => outcome === 'fail'),
      });
    }
    await registry.db.$transaction((tx) => replaceJudgements(tx, judged));
    done += judged.length;
    report(done);
    last = batch.at(-1)?.runId;
    if (batch.length < BATCH) return done;
  }
}
