import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { NotFound } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { runsOfSheet, type StoredSheet, sheetById } from '@/lib/store/sessionSheets';
import type { Registry } from '../registry';

/** More runs than anybody drives on one day: what a sheet shows and rewrites stays bounded. */
export const MOST_RUNS = 24;

export type SheetRun = Awaited<ReturnType<typeof runsOfSheet>>[number];

/** A sheet with its runs, for its own tester only. */
export async function ownSheet(
  registry: Registry,
  actor: Actor | undefined,
  sheetId: string,
): Promise<{ actor: Actor; sheet: StoredSheet; runs: SheetRun[] }> {
  const id = parseInput(z.uuid(), sheetId);
  const sheet = await sheetById(registry.db, id);
  if (sheet === null) throw new NotFound('This sheet does not exist.');
  authorise(actor, 'editRun', sheet.testerId);
  return { actor, sheet, runs: await runsOfSheet(registry.db, id, MOST_RUNS) };
}
