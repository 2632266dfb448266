import { openFieldDay } from '@/lib/registry/runs/fieldCard';
import { openedFromPhone } from '../openedFromPhone';

export const dynamic = 'force-dynamic';

/** Opens the sheet of a day noted on a phone; sent again under the same key, it answers with what that sheet says. */
export function POST(request: Request): Promise<Response> {
  const why = 'A day is sent as {"accountId": …, "creationKey": …, "localDate": …, "form": {…}}.';
  return openedFromPhone(request, { what: 'day', why }, openFieldDay);
}
