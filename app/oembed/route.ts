import { registry } from '@/app/visitor/registry';
import { oembedAnswer } from './oembedAnswer';

export const dynamic = 'force-dynamic';

/** How a page of ours is shown in another one (oEmbed 1.0). */
export function GET(request: Request): Promise<Response> {
  return oembedAnswer(registry(), request);
}
