import { z } from 'zod';
import type { Registry } from '@/lib/registry/registry';
import { ownDraft, toDoOf } from '@/lib/registry/runs/ownRuns';
import { saveDraft } from '@/lib/registry/runs/saveDraft';
import { startDraft } from '@/lib/registry/runs/startDraft';
import { Conflict, StaleDraft } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
import { RUN_FORM_NAMES, type RunForm } from '@/lib/run/runForm';
import { draftChanges, draftFields } from '../draftFields';
import { type Asked, type Done, operation } from '../operation';
import { draftRef, faultOf, status } from '../ownShapes';

/** Fields without a text are those that are not there. */
function formOf(fields: Readonly<Record<string, string | null | undefined>>): RunForm {
  return Object.fromEntries(
    RUN_FORM_NAMES.flatMap((name) => {
      const text = fields[name];
      return text === undefined || text === null ? [] : [[name, text]];
    }),
  );
}

export const beginDraft = operation({
  method: 'POST',
  path: '/own/runs',
  id: 'beginDraft',
  summary: 'Begins a draft',
  scope: 'drafts:write',
  body: z.strictObject({ fields: draftFields.optional() }),
  status: 201,
  isTagged: true,
  answer: draftRef,
  act: async (registry, { actor, body, onceId }) => {
    const form = formOf(body.fields ?? {});
    const { runId, number, draftVersion } = await startDraft(registry, actor, {
      creationKey: `api ${onceId}`,
      form,
    });
    return {
      value: { id: runId, number, draftVersion, toDo: toDoOf(registry, form).map(faultOf) },
      location: `/own/runs/${runId}/draft`,
      version: draftVersion,
    };
  },
});

export const getDraft = operation({
  method: 'GET',
  path: '/own/runs/{id}/draft',
  id: 'getDraft',
  summary: 'A draft as it stands, and what it still wants',
  scope: 'runs:read',
  isTagged: true,
  answer: draftRef
    .extend({
      status,
      isEditable: z.boolean().meta({ description: 'Whether it can be changed and sent' }),
      fields: draftFields,
    })
    .meta({ id: 'Draft' }),
  act: async (registry, { actor, path }) => {
    const { runId, form, toDo, ...draft } = await ownDraft(registry, actor, path.id ?? '');
    return {
      value: { ...draft, id: runId, fields: formOf(form), toDo: toDo.map(faultOf) },
      version: draft.draftVersion,
    };
  },
});

export const replaceDraft = operation({
  method: 'PUT',
  path: '/own/runs/{id}/draft',
  id: 'replaceDraft',
  summary: 'Replaces all fields of a draft',
  scope: 'drafts:write',
  body: z.strictObject({ fields: draftFields }),
  isOfVersion: true,
  isTagged: true,
  answer: draftRef,
  act: (registry, asked) => save(registry, asked, () => formOf(asked.body.fields)),
});

export const changeDraft = operation({
  method: 'PATCH',
  path: '/own/runs/{id}/draft',
  id: 'changeDraft',
  summary: 'Changes some fields of a draft',
  scope: 'drafts:write',
  body: z.strictObject({ fields: draftChanges }),
  isOfVersion: true,
  isTagged: true,
  answer: draftRef,
  act: (registry, asked) => save(registry, asked, (form) => formOf({ ...form, ...asked.body.fields })),
});

async function save(
  registry: Registry,
  { actor, path, version }: Pick<Asked<unknown, unknown>, 'actor' | 'path' | 'version'>,
  changed: (form: RunForm) => RunForm,
): Promise<Done<z.input<typeof draftRef>>> {
  const draft = await seenDraft(registry, actor, path.id ?? '', version);
  const form = changed(draft.form);
  const { draftVersion } = await saveDraft(registry, actor, {
    runId: draft.runId,
    draftVersion: draft.draftVersion,
    form,
  });
  const { runId: id, number } = draft;
  return {
    value: { id, number, draftVersion, toDo: toDoOf(registry, form).map(faultOf) },
    version: draftVersion,
  };
}

/** The draft that the program saw, or a refusal: what was sent in is not changed, and nothing is written over unseen. */
export async function seenDraft(registry: Registry, actor: Actor, runId: string, version: number | 'any') {
  const draft = await ownDraft(registry, actor, runId);
  if (!draft.isEditable)
    throw new Conflict(
      'This run has been submitted: it can be changed again when a reviewer asks for changes.',
    );
  if (version !== 'any' && version !== draft.draftVersion) throw new StaleDraft();
  return draft;
}
