import type { Actor } from '@/lib/run/roles';
import type { RunForm } from '@/lib/run/runForm';
import { runPart } from '@/lib/run/sessionSheet';
import type { Registry } from '../registry';
import { ownSheet } from './ownSheet';
import { seenOf } from './saveSheet';

/** A day's sheet with the run that is open on a page, as kept by now. */
export interface HeldSheet {
  sheetId: string;
  seen: number;
  day: RunForm;
  /** The run's own part. */
  run: RunForm;
  /** Not where the run was sent in meanwhile, or taken off the sheet. */
  isEditable: boolean;
}

/** What a page that was overtaken by another one brings together with what was typed on it. */
export async function heldSheet(
  registry: Registry,
  actor: Actor | undefined,
  sheetId: string,
  runId: string | undefined,
): Promise<HeldSheet> {
  const { sheet, runs } = await ownSheet(registry, actor, sheetId);
  const open = runs.find(({ id }) => id === runId);
  return {
    sheetId: sheet.id,
    seen: seenOf(sheet, open),
    day: sheet.shared,
    run: open === undefined ? {} : runPart(open.form, sheet.shared),
    isEditable: runId === undefined || open?.status === 'draft',
  };
}
