import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { NotFound } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { loopExists } from '@/lib/store/loops';
import { runState } from '@/lib/store/runs';
import type { Page } from '../keyset';
import { type ListedLoop, type ListQuery, readLoops } from '../loops/loops';
import type { Registry } from '../registry';
import { saveDraft } from './saveDraft';

export interface LoopChoice {
  number: number;
  draftVersion: number;
  chosenId: string;
  loops: Page<ListedLoop> & { total: number };
}

/** All loops, a page at a time, for the draft of a run: its form offers the first hundred only. */
export async function loopChoice(
  registry: Registry,
  actor: Actor | undefined,
  runId: string,
  query: ListQuery,
): Promise<LoopChoice> {
  const { number, draftVersion, draft } = await ownDraft(registry, actor, runId);
  return { number, draftVersion, chosenId: draft.loopId ?? '', loops: await readLoops(registry, query) };
}

/** Puts a loop into the draft; the rest of what was typed stays. */
export async function chooseLoop(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<{ draftVersion: number }> {
  const { runId, draftVersion, loopId } = parseInput(
    z.object({ runId: z.uuid(), draftVersion: z.int32().min(1), loopId: z.uuid() }),
    input,
  );
  const { draft } = await ownDraft(registry, actor, runId);
  if (!(await loopExists(registry.db, loopId))) throw new NotFound('This loop does not exist.');
  return saveDraft(registry, actor, { runId, draftVersion, form: { ...draft, loopId } });
}

async function ownDraft(registry: Registry, actor: Actor | undefined, runId: string) {
  const run = await runState(registry.db, parseInput(z.uuid(), runId));
  if (run === null) throw new NotFound('This run does not exist.');
  authorise(actor, 'editRun', run.testerId);
  return run;
}
