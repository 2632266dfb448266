import { openFieldRun } from '@/lib/registry/runs/fieldCard';
import { openedFromPhone } from '../openedFromPhone';

export const dynamic = 'force-dynamic';

/** Opens the draft of a run noted on a phone; sent again under the same key, it answers with the same draft. */
export function POST(request: Request): Promise<Response> {
  const why = 'A run is sent as {"accountId": …, "creationKey": …, "form": {…}}.';
  return openedFromPhone(request, { what: 'run', why }, openFieldRun);
}
