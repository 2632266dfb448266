import { registry } from '@/app/visitor/registry';
import { askedOf, embedAnswer } from '../../embedAnswer';
import { embeddableStudy } from '../../embeddable';

export const dynamic = 'force-dynamic';

/** The figure of a study as it stands now, for other people's pages. */
export async function GET(
  request: Request,
  { params }: { params: Promise<{ slug: string }> },
): Promise<Response> {
  const { slug } = await params;
  return embedAnswer(request, await embeddableStudy(registry(), slug, askedOf(new URL(request.url))));
}
