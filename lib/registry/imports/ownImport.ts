import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { underHeadings } from '@/lib/capture/sheet/headings';
import { IMPORT_FIELDS } from '@/lib/capture/sheet/importFields';
import type { ImportReport } from '@/lib/capture/sheet/importReport';
import { readSheet } from '@/lib/capture/sheet/readSheet';
import type { SheetTable } from '@/lib/capture/sheet/table';
import { isSha256 } from '@/lib/files/blobStore';
import { NotFound } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { worldKey } from '@/lib/run/world';
import { accountById } from '@/lib/store/accounts';
import { importById, type StoredImport } from '@/lib/store/imports';
import type { Registry } from '../registry';

export interface OwnImport {
  batch: StoredImport;
  report: ImportReport;
}

/** One import of the actor's own; to anybody else there is none. */
export async function ownImport(
  registry: Registry,
  actor: Actor | undefined,
  importId: unknown,
): Promise<OwnImport & { actor: Actor }> {
  const batch = await importById(registry.db, parseInput(z.uuid(), importId));
  if (batch === null) throw new NotFound('This import does not exist.');
  authorise(actor, 'editRun', batch.byId);
  if (batch.report === undefined) throw new NotFound('The report of this import can no longer be read.');
  return { actor, batch, report: batch.report };
}

/** The table of an import, read again from the file as it was sent. */
export async function importedTable(registry: Registry, report: ImportReport): Promise<SheetTable> {
  const bytes = isSha256(report.sha256) ? await registry.blobs.get(report.sha256) : null;
  if (bytes === null) throw new NotFound('The file of this import is no longer kept.');
  const { table } = await readSheet(bytes, report.sheetName ?? undefined);
  return underHeadings(table, IMPORT_FIELDS, report.headingRow);
}

/** The tester of an import, for what the background does in their name. */
export async function testerOfImport(registry: Registry, byId: string): Promise<Actor> {
  const account = await accountById(registry.db, byId);
  if (account === null) throw new NotFound(`no account ${byId}`);
  return { accountId: account.id, role: account.role, world: worldKey(account.world) };
}
