import { createHash } from 'node:crypto';
import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { underHeadings } from '@/lib/capture/sheet/headings';
import { IMPORT_FIELDS } from '@/lib/capture/sheet/importFields';
import type { ImportReport, SheetReading } from '@/lib/capture/sheet/importReport';
import { readSheet } from '@/lib/capture/sheet/readSheet';
import { suggestReading } from '@/lib/capture/sheet/suggestReading';
import { type SheetRow, type SheetTable, tableLimits } from '@/lib/capture/sheet/table';
import { InvalidInput, TooLarge } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { appendAudit } from '@/lib/store/audit';
import { insertImport, rememberedMapping } from '@/lib/store/imports';
import type { Registry } from '../registry';

export const uploadImportSchema = z.object({
  fileName: z.string().trim().max(200).default(''),
  bytes: z.instanceof(Uint8Array),
});

/** What a remembered mapping is filed under: mappings of other kinds of tables have their own. */
export const MAPPING_KIND = 'runs';

/** Takes a sheet in: read within limits, kept as it came, its columns proposed. No run is touched. */
export async function uploadImport(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<{ importId: string }> {
  authorise(actor, 'recordRun');
  const { fileName, bytes } = parseInput(uploadImportSchema, input);
  if (bytes.byteLength === 0) throw noFile();
  if (bytes.byteLength > tableLimits.maxBytes) {
    throw new TooLarge(`The file is larger than ${Math.round(tableLimits.maxBytes / 1048576)} MB. Split it.`);
  }
  const { table: asSent, sheetNames } = await readSheet(bytes);
  const table = underHeadings(asSent, IMPORT_FIELDS, null);
  const report: Partial<ImportReport> = {
    state: 'mapping',
    sha256: await registry.blobs.put(bytes),
    sheetName: table.sheetName,
    sheetNames: [...sheetNames],
    reading: await proposedReading(registry, actor.accountId, table),
  };
  return registry.db.$transaction(async (tx) => {
    const at = registry.now();
    const { id } = await insertImport(tx, {
      byId: actor.accountId,
      fileName: fileName || 'sheet',
      rowsRead: table.rows.length,
      report,
      at,
    });
    await appendAudit(tx, {
      at,
      actorId: actor.accountId,
      action: 'import.upload',
      subjectKind: 'import',
      subjectId: id,
      details: { rows: table.rows.length },
    });
    return { importId: id };
  });
}

/** The reading used last for a table with these headings, or one proposed from the headings. */
export async function proposedReading(
  registry: Registry,
  accountId: string,
  table: SheetTable,
): Promise<SheetReading> {
  const remembered = await rememberedMapping(registry.db, accountId, MAPPING_KIND, headerKeyOf(table.header));
  return remembered ?? suggestReading(table, IMPORT_FIELDS);
}

export function headerKeyOf(header: SheetRow): string {
  const text = header.cells.map((cell) => cell.toLowerCase()).join('\u001f');
  return createHash('sha256').update(text).digest('hex');
}

function noFile(): InvalidInput {
  return new InvalidInput([
    {
      path: 'file',
      what: 'No file was chosen, or it is empty.',
      why: 'The runs are read from it.',
      fix: 'Choose a CSV or XLSX file.',
    },
  ]);
}
