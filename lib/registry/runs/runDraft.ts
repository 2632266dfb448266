import { may } from '@/lib/access/permissions';
import type { Actor } from '@/lib/run/roles';
import { runOwner } from '@/lib/store/runLists';
import type { Registry } from '../registry';

/** The id of a run that was never submitted, for its own tester: its page is the form. */
export async function draftOfRun(
  registry: Registry,
  actor: Actor | undefined,
  number: number,
): Promise<string | undefined> {
  const run = await runOwner(registry.db, number);
  return run !== null && run.status === 'draft' && may(actor, 'editRun', run.testerId) ? run.id : undefined;
}
