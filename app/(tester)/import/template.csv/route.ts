import { exampleCells } from '@/lib/capture/sheet/exampleRow';
import { IMPORT_FIELDS } from '@/lib/capture/sheet/importFields';
import { templateHeader, writeCsv } from '@/lib/capture/sheet/writeSheet';

/** Every heading that the import knows, and an example that it leaves out. */
export function GET(): Response {
  return new Response(`\uFEFF${writeCsv(templateHeader(IMPORT_FIELDS), [exampleCells(IMPORT_FIELDS)])}`, {
    headers: {
      'Content-Type': 'text/csv; charset=utf-8',
      'Content-Disposition': 'attachment; filename="evenloop-runs.csv"',
    },
  });
}
