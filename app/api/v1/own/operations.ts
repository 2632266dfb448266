import type { Method, Operation } from './operation';
import { beginDraft, changeDraft, getDraft, replaceDraft } from './operations/drafts';
import { addPhoto, deletePhoto, deleteRecording, putRecording } from './operations/files';
import { choices, ownRun, ownRuns, submit } from './operations/runs';

/** Everything that a program may do for its tester, in the order of its page. */
export const OPERATIONS: readonly Operation[] = [
  choices,
  beginDraft,
  getDraft,
  changeDraft,
  replaceDraft,
  putRecording,
  deleteRecording,
  addPhoto,
  deletePhoto,
  submit,
  ownRuns,
  ownRun,
];

export interface FoundOperation {
  readonly operation: Operation;
  readonly path: Readonly<Record<string, string>>;
}

/** What stands at an address below /api/v1/own by this method, or by which others something does. */
export function operationAt(
  method: string,
  segments: readonly string[],
): FoundOperation | { readonly allowed: readonly Method[] } {
  const allowed: Method[] = [];
  for (const operation of OPERATIONS) {
    const wanted = operation.path.slice('/own/'.length).split('/');
    if (wanted.length !== segments.length) continue;
    const path = new Map<string, string>();
    const fits = wanted.every((part, index) => {
      const given = segments[index] ?? '';
      if (!part.startsWith('{')) return part === given;
      path.set(part.slice(1, -1), given);
      return true;
    });
    if (!fits) continue;
    if (operation.method === method) return { operation, path: Object.fromEntries(path) };
    allowed.push(operation.method);
  }
  return { allowed };
}
