import { signedIn } from '@/app/visitor/actor';
import { problemResponse } from '@/app/visitor/problem';
import { registry } from '@/app/visitor/registry';
import { fieldLists } from '@/lib/registry/runs/fieldCard';

export const dynamic = 'force-dynamic';

/** Cars, setups, loops and units of the one who is signed in, for the field card to keep. */
export async function GET(): Promise<Response> {
  try {
    const lists = await fieldLists(registry(), await signedIn());
    return Response.json(lists, { headers: { 'Cache-Control': 'private, no-store' } });
  } catch (error) {
    return problemResponse(error);
  }
}
