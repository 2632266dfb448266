import { z } from 'zod';
import { Conflict, InvalidInput } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import { parseRunForm } from '@/lib/run/parseRunForm';
import type { Actor } from '@/lib/run/roles';
import { inTimeOrder } from '@/lib/run/sessionSheet';
import type { Registry } from '../registry';
import { submitRun } from '../runs/submitRun';
import { ownSheet } from './ownSheet';

export interface SentDay {
  /** Numbers of the runs that wait for review now. */
  sent: number[];
  /** Those that were complete and could not be sent, each with the reason. */
  refused: { number: number; why: string }[];
}

/**
 * Submits all complete drafts of a day, in the order in which they were driven. Each is a submission of its own: what
 * stops one does not take another back.
 */
export async function submitDay(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<SentDay> {
  const { sheetId } = parseInput(z.object({ sheetId: z.uuid() }), input);
  const { runs } = await ownSheet(registry, actor, sheetId);
  const now = registry.now().toISOString();
  const day: SentDay = { sent: [], refused: [] };
  for (const run of inTimeOrder(runs)) {
    if (run.status !== 'draft' || !parseRunForm(run.form, { now }).ok) continue;
    try {
      await submitRun(registry, actor, { runId: run.id, draftVersion: run.draftVersion });
      day.sent.push(run.number);
    } catch (error) {
      if (!(error instanceof InvalidInput) && !(error instanceof Conflict)) throw error;
      const why =
        error instanceof InvalidInput ? error.issues.map(({ what }) => what).join(' ') : error.message;
      day.refused.push({ number: run.number, why });
    }
  }
  return day;
}
