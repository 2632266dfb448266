import { networkAddress } from '@/app/visitor/networkAddress';
import { noteRefusal } from '@/app/visitor/noteRefusal';
import { registry } from '@/app/visitor/registry';
import { ReadAllowance } from '../../allowance';
import { ownAnswer } from '../ownAnswer';

export const dynamic = 'force-dynamic';

const strangers = new ReadAllowance();

/** What programs do for their testers, by a token and never by a cookie. */
async function answered(
  request: Request,
  { params }: { params: Promise<{ path: string[] }> },
): Promise<Response> {
  const network = await networkAddress();
  const { path } = await params;
  return ownAnswer(registry(), request, path, {
    boundStrangers: () => {
      strangers.take(network, Date.now());
    },
    noteRefusal,
  });
}

export { answered as DELETE, answered as GET, answered as PATCH, answered as POST, answered as PUT };
