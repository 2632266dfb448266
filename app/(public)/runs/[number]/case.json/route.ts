import { runNumber } from '@/app/runDossier/runNumber';
import { signedIn } from '@/app/visitor/actor';
import { problemResponse } from '@/app/visitor/problem';
import { registry } from '@/app/visitor/registry';
import { readRunCase } from '@/lib/registry/runs/runCase';
import { NotFound } from '@/lib/run/errors';

export const dynamic = 'force-dynamic';

/** The normalisation input of a run, in the form that `npm run normalise` reads. */
export async function GET(_request: Request, { params }: { params: Promise<{ number: string }> }) {
  try {
    const number = runNumber((await params).number);
    const input = number === undefined ? undefined : await readRunCase(registry(), await signedIn(), number);
    if (input === undefined) throw new NotFound('This run has no normalisation input.');
    return new Response(`${JSON.stringify(input, null, 2)}\n`, {
      headers: {
        'Content-Type': 'application/json',
        'Content-Disposition': `attachment; filename="evenloop-run-${number}.json"`,
        'Cache-Control': 'private, no-cache',
        Vary: 'Cookie',
      },
    });
  } catch (error) {
    return problemResponse(error);
  }
}
