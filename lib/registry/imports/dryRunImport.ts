import { countRows, type ImportReport } from '@/lib/capture/sheet/importReport';
import { NotFound } from '@/lib/run/errors';
import { appendAudit } from '@/lib/store/audit';
import { importById, rememberMapping, updateImport } from '@/lib/store/imports';
import type { Registry } from '../registry';
import { importedTable, testerOfImport } from './ownImport';
import { planImport } from './planImport';
import { headerKeyOf, MAPPING_KIND } from './uploadImport';

/** The dry run that `checkImport` asked for: keeps what each row would do. Runs are only looked at. */
export async function dryRunImport(registry: Registry, importId: string): Promise<void> {
  const batch = await importById(registry.db, importId);
  if (batch === null) throw new NotFound(`no import ${importId}`);
  const { report: asked, byId } = batch;
  if (asked === undefined) throw new Error(`the report of import ${importId} cannot be read`);
  if (asked.state !== 'checking') return;
  const { reading } = asked;
  const table = await importedTable(registry, asked);
  const tester = await testerOfImport(registry, byId);
  const plan = await planImport(registry, tester, asked, table, reading);
  const rows = plan.ok ? plan.rows : [];
  const report: ImportReport = {
    ...asked,
    state: plan.ok ? 'checked' : 'mapping',
    mappingProblems: plan.ok ? [] : plan.problems,
    rows,
  };
  const counts = { rowsRead: table.rows.length, rowsRefused: countRows(rows).refused };
  const key = { accountId: byId, kind: MAPPING_KIND, headerKey: headerKeyOf(table.header) };
  await registry.db.$transaction(async (tx) => {
    const at = registry.now();
    if (!(await updateImport(tx, importId, 'checking', { report, ...counts }))) return;
    if (plan.ok) await rememberMapping(tx, key, reading, at);
    await appendAudit(tx, {
      at,
      actorId: byId,
      action: 'import.checked',
      subjectKind: 'import',
      subjectId: importId,
      details: counts,
    });
  });
}
