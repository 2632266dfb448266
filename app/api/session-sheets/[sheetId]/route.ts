import { boundedBody } from '@/app/api/runs/boundedBody';
import { jsonObject } from '@/app/api/runs/jsonObject';
import { requireSameOrigin } from '@/app/api/runs/sameOrigin';
import { signedIn } from '@/app/visitor/actor';
import { problemResponse } from '@/app/visitor/problem';
import { registry } from '@/app/visitor/registry';
import { boundUse } from '@/lib/registry/accounts/boundUse';
import { heldSheet } from '@/lib/registry/sessionSheets/heldSheet';
import { saveSheet } from '@/lib/registry/sessionSheets/saveSheet';

export const dynamic = 'force-dynamic';

/** The fields of a form and those of its day, each within its bound, fit several times over. */
const MOST_BYTES = 512 * 1024;

/** Saves the sheet of a day with its open run over the versions that the sender saw; 409 when they were changed. */
export async function PUT(
  request: Request,
  { params }: { params: Promise<{ sheetId: string }> },
): Promise<Response> {
  try {
    requireSameOrigin(request);
    const actor = await signedIn();
    await boundUse(registry(), actor, 'api');
    const body = await boundedBody(request, MOST_BYTES, 'The sheet is larger than any form can be.');
    const input = {
      ...jsonObject(body, 'A sheet is sent as {"seen": …, "day": {…}, "run": {…}}.'),
      sheetId: (await params).sheetId,
    };
    return Response.json(await saveSheet(registry(), actor, input));
  } catch (error) {
    return problemResponse(error);
  }
}

/** The sheet with its open run (`?run=`) as kept by now. */
export async function GET(
  request: Request,
  { params }: { params: Promise<{ sheetId: string }> },
): Promise<Response> {
  try {
    const actor = await signedIn();
    const runId = new URL(request.url).searchParams.get('run') ?? undefined;
    const held = await heldSheet(registry(), actor, (await params).sheetId, runId);
    return Response.json(held, { headers: { 'Cache-Control': 'private, no-store' } });
  } catch (error) {
    return problemResponse(error);
  }
}
