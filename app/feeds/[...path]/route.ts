import { problemResponse } from '@/app/visitor/problem';
import { registry } from '@/app/visitor/registry';
import { NotFound } from '@/lib/run/errors';
import { atomAnswer } from '../atom';
import { feedOf } from '../feedOf';

export const dynamic = 'force-dynamic';

/** What is new of everything, or of one study, setup, loop or tester. */
export async function GET(
  request: Request,
  { params }: { params: Promise<{ path: string[] }> },
): Promise<Response> {
  try {
    const feed = await feedOf(registry(), (await params).path);
    if (feed === undefined) throw new NotFound('There is no such feed.');
    return atomAnswer(request, feed);
  } catch (error) {
    return problemResponse(error);
  }
}
