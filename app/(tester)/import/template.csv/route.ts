import { templateHeader, writeCsv } from '@/lib/capture/sheet/writeSheet';
import { IMPORT_FIELDS } from '@/lib/registry/imports/importFields';

/** An empty sheet with every heading that the import knows. */
export function GET(): Response {
  return new Response(`\uFEFF${writeCsv(templateHeader(IMPORT_FIELDS), [])}`, {
    headers: {
      'Content-Type': 'text/csv; charset=utf-8',
      'Content-Disposition': 'attachment; filename="evenloop-runs.csv"',
    },
  });
}
