import type { Actor } from '@/lib/run/roles';
import { PUBLIC_RUN_STATUSES } from '@/lib/run/runStatus';
import { runCases } from '@/lib/store/runDossier';
import { recordPrivateExport } from '../audit/recordAct';
import type { Registry } from '../registry';
import { isPrivateToAnother, isVisible } from './run';

/**
 * What the engine was given for the shown revision of a run; undefined where the reader may not see
 * it, or nothing that can be read is stored.
 */
export async function readRunCase(
  registry: Registry,
  actor: Actor | undefined,
  number: number,
): Promise<object | undefined> {
  const run = await runCases(registry.db, number);
  if (run === null || !isVisible(actor, run)) return undefined;
  const revision = PUBLIC_RUN_STATUSES.includes(run.status)
    ? run.revisions.find((candidate) => candidate.number === run.approvedRevision)
    : run.revisions[0];
  const input = revision?.normalisation?.input;
  if (input && isPrivateToAnother(actor, run))
    await recordPrivateExport(registry, actor, { kind: 'run', id: run.id, file: 'case.json' });
  return input && { name: `run ${number}`, ...input };
}
