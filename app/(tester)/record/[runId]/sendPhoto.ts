import type { FieldError } from '@/app/ui/forms/Field';
import type { FormPhoto } from '@/lib/registry/runs/recordForm';
import type { PhotoMark } from '@/lib/run/photoMarks';
import { PHOTO_LIMIT_BYTES, PHOTO_LIMIT_TEXT } from '../photoLimit';

export type PhotoAnswer = { ok: true; photos: FormPhoto[] } | { ok: false; error: FieldError };

/** Sends one photo; the answer is all photos of the run, or what is wrong with this one. It never throws. */
export async function sendPhoto(
  runId: string,
  photo: { kind: string; file: File; keepCaptureTime: boolean },
  send: typeof fetch = fetch,
): Promise<PhotoAnswer> {
  const { kind, file, keepCaptureTime } = photo;
  if (file.size > PHOTO_LIMIT_BYTES) return tooLarge(file);
  const body = new FormData();
  body.set(`evidence.${kind}`, file, file.name);
  if (keepCaptureTime) body.set('keepCaptureTime', 'yes');
  return answerOf(() => send(`/api/runs/${runId}/evidence`, { method: 'POST', body }));
}

/** Takes one photo off the draft. */
export function takePhotoOff(
  runId: string,
  evidenceId: string,
  send: typeof fetch = fetch,
): Promise<PhotoAnswer> {
  return answerOf(() => send(`/api/runs/${runId}/evidence/${evidenceId}`, { method: 'DELETE' }));
}

/** Keeps where on a photo its numbers are, in place of what was kept. */
export function sendMarks(
  runId: string,
  evidenceId: string,
  marks: readonly PhotoMark[],
  send: typeof fetch = fetch,
): Promise<PhotoAnswer> {
  return answerOf(() =>
    send(`/api/runs/${runId}/evidence/${evidenceId}`, {
      method: 'PUT',
      headers: { 'Content-Type': 'application/json' },
      body: JSON.stringify({ marks }),
    }),
  );
}

async function answerOf(ask: () => Promise<Response>): Promise<PhotoAnswer> {
  try {
    const answer = await ask();
    const body: unknown = await answer.json();
    if (answer.ok && isPhotos(body)) return { ok: true, photos: body.photos };
    return { ok: false, error: errorIn(body) };
  } catch {
    return {
      ok: false,
      error: {
        what: 'The server could not be reached.',
        why: 'Photos, and what is marked on them, are not kept in this browser.',
        fix: 'Try again when you are online.',
      },
    };
  }
}

function tooLarge(file: File): PhotoAnswer {
  const megabytes = Math.ceil(file.size / 1024 / 1024);
  return {
    ok: false,
    error: {
      what: `The photo has ${megabytes} MB.`,
      why: `At most ${PHOTO_LIMIT_TEXT} are taken.`,
      fix: 'Send a smaller version of it.',
    },
  };
}

function isPhotos(body: unknown): body is { photos: FormPhoto[] } {
  return typeof body === 'object' && body !== null && 'photos' in body && Array.isArray(body.photos);
}

/** The first issue of a problem answer (RFC 9457), or its title. */
function errorIn(body: unknown): FieldError {
  const problem: { title?: unknown; issues?: unknown } =
    typeof body === 'object' && body !== null ? body : {};
  const first: unknown = Array.isArray(problem.issues) ? problem.issues[0] : undefined;
  if (typeof first === 'object' && first !== null && 'what' in first && typeof first.what === 'string') {
    const text = (key: 'why' | 'fix') => {
      const value: unknown = Reflect.get(first, key);
      return typeof value === 'string' ? value : undefined;
    };
    return { what: first.what, why: text('why'), fix: text('fix') };
  }
  return { what: typeof problem.title === 'string' ? problem.title : 'The photo was refused.' };
}
