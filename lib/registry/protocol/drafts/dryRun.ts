import { z } from 'zod';
import { outcomeChanges, worstOutcome } from '@/lib/protocol/draft/outcomeChanges';
import type { ProtocolVersion } from '@/lib/protocol/parameters';
import { readStoredParameters } from '@/lib/protocol/stored';
import { type Method, reduceRun } from '@/lib/reduction/reduceRun';
import { Conflict } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { type WorldKey, worldKey } from '@/lib/run/world';
import { basesOf, type CorrectedBase } from '@/lib/store/correctionRuns';
import {
  type ApprovedRun,
  approvedRuns,
  beginDryRun,
  countApprovedRuns,
  dryRunOf,
  emptyDryRun,
  finishDryRun,
  insertDryRunResults,
  type NewDryRunResult,
} from '@/lib/store/dryRuns';
import { enqueueJob } from '@/lib/store/jobs';
import { protocolVersionById } from '@/lib/store/protocol';
import { draftById } from '@/lib/store/protocolDrafts';
import { judgeBaseBy, recordOf } from '../../corrections/correctedRun';
import { methodInEffect } from '../../method/methodInEffect';
import type { Registry } from '../../registry';
import { activeProtocol } from '../activeProtocol';
import { authoriseDrafts, movedOn, requireDraft, told } from './editDraft';

/** Jobs of this kind hold a draft against the version in force over all approved runs; their key is the draft. */
export const DRY_RUN_JOB = 'dryRunProtocol';

const BATCH = 50;

const askSchema = z.object({ draftId: z.uuid(), revision: z.int().min(1) });

/** Asks for a dry run of a draft as the steward sees it, in the place of an earlier one. */
export async function requestDryRun(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<void> {
  const { draftId, revision } = parseInput(askSchema, input);
  authoriseDrafts(actor);
  const active = await activeProtocol(registry);
  const at = registry.now();
  await registry.db.$transaction(async (tx) => {
    const draft = await requireDraft(tx, draftId);
    if (draft.revision !== revision || draft.publishedAsId !== null) throw movedOn(draft);
    if (!(await enqueueJob(tx, DRY_RUN_JOB, draftId, at)))
      throw new Conflict('A dry run of this draft is waiting already.');
    await beginDryRun(tx, {
      draftId,
      revision,
      againstId: active.id,
      askedById: actor.accountId,
      askedAt: at,
    });
    await told(tx, actor, { act: 'protocol.dryRun', draftId, at, details: { label: draft.label, revision } });
  });
}

/**
 * Judges every approved run by the draft and by the version that was in force when it was asked for: from the stored
 * inputs, by the method in effect, and by what was there when the run was sent in, so that nothing but the protocol
 * differs. Nothing of the runs changes. A run that cannot be computed is listed as such.
 */
export async function dryRunDraft(
  registry: Registry,
  draftId: string,
  report: (done: number, of: number) => void = () => undefined,
): Promise<void> {
  const [draft, asked] = await Promise.all([draftById(registry.db, draftId), dryRunOf(registry.db, draftId)]);
  if (draft === null || asked === null || asked.finishedAt !== null) return;
  const against = await protocolVersionById(registry.db, asked.against.id);
  const protocols = [against, draft].map(({ label, parameters }) => ({
    label,
    parameters: readStoredParameters(parameters),
  }));
  const of = { draftId, askedAt: asked.askedAt };
  await registry.db.$transaction((tx) => emptyDryRun(tx, draftId, draft.revision));
  const count = await countApprovedRuns(registry.db);
  const methods = new Map<WorldKey, Method>();
  let done = 0;
  let last: string | undefined;
  for (;;) {
    const batch = await approvedRuns(registry.db, last, BATCH);
    const results = await judgeBatch(registry, batch, { protocols, methods });
    const isHeld = await registry.db.$transaction((tx) => insertDryRunResults(tx, of, results));
    if (!isHeld) return;
    done += batch.length;
    report(done, count);
    last = batch.at(-1)?.runId;
    if (batch.length < BATCH) break;
  }
  await registry.db.$transaction((tx) => finishDryRun(tx, of, registry.now()));
}

async function judgeBatch(
  registry: Registry,
  batch: readonly ApprovedRun[],
  by: { protocols: readonly ProtocolVersion[]; methods: Map<WorldKey, Method> },
): Promise<NewDryRunResult[]> {
  const runs = new Map(batch.map((run) => [run.baseId, run]));
  const results: NewDryRunResult[] = [];
  for (const base of await basesOf(registry.db, [...runs.keys()])) {
    const run = runs.get(base.id);
    if (run === undefined) continue;
    const { runId, world, cruiseClassKey, setupId } = run;
    const key = worldKey(world);
    const method = by.methods.get(key) ?? (await methodInEffect(registry.db, key));
    by.methods.set(key, method);
    const judged = await judge(registry, base, { ...by, method });
    results.push({ number: base.run.number, runId, world, cruiseClassKey, setupId, ...judged });
  }
  return results;
}

const NOT_JUDGED = { before: null, after: null, changes: [] };

async function judge(
  registry: Registry,
  base: CorrectedBase,
  { protocols, method }: { protocols: readonly ProtocolVersion[]; method: Method },
): Promise<Pick<NewDryRunResult, 'before' | 'after' | 'changes'>> {
  const record = recordOf(base, base.form);
  if (base.inputs === null || !base.inputs.ok || record === undefined) return NOT_JUDGED;
  const reduced = reduceRun(base.inputs.snapshot, method);
  const [before = [], after = []] = await judgeBaseBy(registry, base, { as: record, reduced, protocols });
  return {
    before: worstOutcome(before),
    after: worstOutcome(after),
    changes: outcomeChanges(before, after),
  };
}
