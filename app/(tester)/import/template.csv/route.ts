import { IMPORT_FIELDS } from '@/lib/capture/sheet/importFields';
import { templateHeader, writeCsv } from '@/lib/capture/sheet/writeSheet';

/** An empty sheet with every heading that the import knows. */
export function GET(): Response {
  return new Response(`\uFEFF${writeCsv(templateHeader(IMPORT_FIELDS), [])}`, {
    headers: {
      'Content-Type': 'text/csv; charset=utf-8',
      'Content-Disposition': 'attachment; filename="evenloop-runs.csv"',
    },
  });
}
