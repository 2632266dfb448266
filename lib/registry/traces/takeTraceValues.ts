import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { traceOffers } from '@/lib/capture/trace/traceOffers';
import { NotFound } from '@/lib/run/errors';
import { unitFieldName } from '@/lib/run/numberField';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import type { RunForm } from '@/lib/run/runForm';
import { runState } from '@/lib/store/runs';
import { traceOfDraft } from '@/lib/store/traces';
import type { Registry } from '../registry';
import { saveDraft } from '../runs/saveDraft';
import { contentsOf } from './keepTrace';

export const takeTraceValuesSchema = z.object({
  runId: z.uuid(),
  /** The version whose typed values the tester saw beside the recording's. */
  draftVersion: z.int32().min(1),
  names: z.array(z.string().max(60)).max(40),
});

/** Writes the chosen values of the recording into the draft; what was not chosen stays as typed. */
export async function takeTraceValues(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<{ draftVersion: number; taken: string[] }> {
  const { runId, draftVersion, names } = parseInput(takeTraceValuesSchema, input);
  const run = await runState(registry.db, runId);
  if (run === null) throw new NotFound('This run does not exist.');
  authorise(actor, 'editRun', run.testerId);
  const trace = await traceOfDraft(registry.db, runId);
  if (trace === null) throw new NotFound('This run has no recording.');
  const form: RunForm = { ...run.draft };
  const chosen = traceOffers(contentsOf(trace).stored, form).filter(({ name }) => names.includes(name));
  for (const { name, text, unit } of chosen) {
    form[name] = text;
    if (unit !== null) form[unitFieldName(name)] = unit;
  }
  const saved = await saveDraft(registry, actor, { runId, draftVersion, form });
  return { ...saved, taken: chosen.map(({ name }) => name) };
}
