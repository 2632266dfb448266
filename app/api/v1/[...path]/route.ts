import { networkAddress } from '@/app/visitor/networkAddress';
import { registry } from '@/app/visitor/registry';
import { ReadAllowance } from '../allowance';
import { answer, preflightAnswer } from '../answer';

export const dynamic = 'force-dynamic';

const allowance = new ReadAllowance();

export async function GET(
  request: Request,
  { params }: { params: Promise<{ path: string[] }> },
): Promise<Response> {
  const network = await networkAddress();
  return answer(registry(), request, (await params).path, () => allowance.take(network, Date.now()));
}

export function OPTIONS(): Response {
  return preflightAnswer();
}
