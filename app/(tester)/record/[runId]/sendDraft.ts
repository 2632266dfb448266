import type { ServerDraft } from '@/lib/registry/runs/fieldCard';
import type { HeldSheet } from '@/lib/registry/sessionSheets/heldSheet';
import type { RunForm } from '@/lib/run/runForm';
import type { DraftEvent } from './draftState';

/** Sends one version of the draft and says what became of it; it never throws. */
export async function sendDraft(
  runId: string,
  version: number,
  form: RunForm,
  send: typeof fetch = fetch,
): Promise<DraftEvent> {
  return putDraft(`/api/runs/${runId}/draft`, { draftVersion: version, form }, 'draftVersion', send);
}

/** Puts what was typed to an address whose answer names the new version; it never throws. */
export async function putDraft(
  href: string,
  typed: object,
  versionName: string,
  send: typeof fetch = fetch,
): Promise<DraftEvent> {
  let answer: Response;
  try {
    answer = await send(href, {
      method: 'PUT',
      headers: { 'Content-Type': 'application/json' },
      body: JSON.stringify(typed),
    });
  } catch {
    return { kind: 'unreachable' };
  }
  const body = await bodyOf(answer);
  const version = body[versionName];
  if (answer.ok && typeof version === 'number') return { kind: 'saved', version };
  if (answer.ok || answer.status >= 500) return { kind: 'unreachable' };
  const message = typeof body.title === 'string' ? body.title : 'The server refused it.';
  if (answer.status === 409) return { kind: 'conflict', message };
  return { kind: 'refused', message };
}

/** What the server holds of a run by now; undefined where it cannot be learnt. */
export async function heldDraft(runId: string, send: typeof fetch = fetch): Promise<ServerDraft | undefined> {
  try {
    const answer = await send(`/api/field/runs/${runId}`, { headers: { Accept: 'application/json' } });
    return answer.ok ? ((await answer.json()) as ServerDraft) : undefined;
  } catch {
    return undefined;
  }
}

/** What the server holds of a day's sheet and its open run by now. */
export async function heldSheet(
  sheetId: string,
  runId: string | undefined,
  send: typeof fetch = fetch,
): Promise<HeldSheet | undefined> {
  try {
    const run = runId === undefined ? '' : `?run=${encodeURIComponent(runId)}`;
    const answer = await send(`/api/session-sheets/${sheetId}${run}`, {
      headers: { Accept: 'application/json' },
    });
    return answer.ok ? ((await answer.json()) as HeldSheet) : undefined;
  } catch {
    return undefined;
  }
}

async function bodyOf(answer: Response): Promise<Record<string, unknown>> {
  try {
    const body: unknown = await answer.json();
    return typeof body === 'object' && body !== null ? { ...body } : {};
  } catch {
    return {};
  }
}
