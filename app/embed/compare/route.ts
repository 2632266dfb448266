import { registry } from '@/app/visitor/registry';
import { askedOf, embedAnswer } from '../embedAnswer';
import { embeddableComparison } from '../embeddable';

export const dynamic = 'force-dynamic';

/** A comparison as it stands now, for other people's pages. */
export async function GET(request: Request): Promise<Response> {
  return embedAnswer(request, await embeddableComparison(registry(), askedOf(new URL(request.url))));
}
