import { IMPORT_FIELDS } from '@/lib/capture/sheet/importFields';
import { writeTemplate } from '@/lib/capture/sheet/writeSheet';

/** The same as a workbook, with a second sheet that says what each column holds. */
export async function GET(): Promise<Response> {
  const bytes = new Uint8Array(await writeTemplate(IMPORT_FIELDS));
  return new Response(bytes, {
    headers: {
      'Content-Type': 'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet',
      'Content-Disposition': 'attachment; filename="evenloop-runs.xlsx"',
    },
  });
}
