import { publicAddress } from '@/app/runDossier/publicAddress';
import { problemResponse } from '@/app/visitor/problem';
import { registry } from '@/app/visitor/registry';
import { readStudy } from '@/lib/registry/studies/study';
import { NotFound } from '@/lib/run/errors';
import { calendarFile } from '@/lib/study/calendarFile';
import { dayOfSession, letterOf } from '@/lib/study/plan';

export const dynamic = 'force-dynamic';

/** The planned days of a study for a calendar. */
export async function GET(
  _request: Request,
  { params }: { params: Promise<{ slug: string }> },
): Promise<Response> {
  try {
    const { slug } = await params;
    const view = await readStudy(registry(), undefined, slug);
    const { plan } = view ?? {};
    if (view === undefined || plan === undefined || plan.calendar === null)
      throw new NotFound('This study names no days.');
    const legend = view.setups.map(({ id, title }) => `${letterOf(plan, id)}: ${title}`).join('\n');
    const days = plan.days.map((order, at) => ({
      uid: `study-${view.id}-day-${at + 1}@evenloop`,
      day: dayOfSession(plan, at) ?? '',
      title: `Day ${at + 1} of ${plan.days.length}: ${order.map((id) => letterOf(plan, id)).join(' ')}`,
      text: `${view.question}\n${view.loop.name}, ${view.classLabel}\n${legend}\nPosted limits and local law come first.`,
      url: publicAddress(`/studies/${slug}`),
    }));
    return new Response(calendarFile(view.question, days, view.versions[0]?.madeAt ?? view.createdAt), {
      headers: {
        'Content-Type': 'text/calendar; charset=utf-8',
        'Content-Disposition': `attachment; filename="evenloop-${slug}.ics"`,
      },
    });
  } catch (error) {
    return problemResponse(error);
  }
}
