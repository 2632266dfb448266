import { figureCsv } from '@/app/ui/figures/figureCsv';
import { problemResponse } from '@/app/visitor/problem';
import { registry } from '@/app/visitor/registry';
import { readStudy } from '@/lib/registry/studies/study';
import { NotFound } from '@/lib/run/errors';
import { DEFAULT_PREFERENCES } from '@/lib/units/display';
import { runsTable } from '../runsTable';

export const dynamic = 'force-dynamic';

/** The runs of a study as a table, as anybody may see them. */
export async function GET(
  _request: Request,
  { params }: { params: Promise<{ slug: string }> },
): Promise<Response> {
  try {
    const { slug } = await params;
    const view = await readStudy(registry(), undefined, slug);
    if (view?.plan === undefined) throw new NotFound('There is no such study, or its plan cannot be read.');
    return new Response(figureCsv(runsTable(view, view.plan, DEFAULT_PREFERENCES)), {
      headers: {
        'Content-Type': 'text/csv; charset=utf-8',
        'Content-Disposition': `attachment; filename="evenloop-study-${slug}.csv"`,
      },
    });
  } catch (error) {
    return problemResponse(error);
  }
}
