import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { editedLimits } from '@/lib/protocol/draft/editLimits';
import { LIMIT_PARTS } from '@/lib/protocol/draft/limitForm';
import { readStoredParameters } from '@/lib/protocol/stored';
import { NEWEST_VERSION } from '@/lib/protocol/versions/newestVersion';
import { Conflict, InvalidInput, NotFound } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { RECORD } from '@/lib/run/world';
import { appendAudit } from '@/lib/store/audit';
import { isUniqueViolation, type Queryable } from '@/lib/store/database';
import { activeProtocolVersion } from '@/lib/store/protocol';
import {
  deleteDraft,
  draftById,
  insertDraft,
  isLabelTaken,
  type StoredDraft,
  saveDraft,
} from '@/lib/store/protocolDrafts';
import type { Registry } from '../../registry';

const words = {
  label: z
    .string()
    .trim()
    .regex(/^[0-9A-Za-z][0-9A-Za-z.-]{0,19}$/, {
      error:
        'This is no label. | It stands in addresses and beside every run. | Use up to 20 letters, digits, points and hyphens, such as 4.0.',
    }),
  summary: z
    .string()
    .trim()
    .min(
      10,
      'The summary is missing. | Readers find it beside the version. | Say in a sentence what changes and why.',
    )
    .max(
      2000,
      'The summary is too long. | Readers find it beside the version. | Use at most 2000 characters.',
    ),
};

const draftRef = { draftId: z.uuid(), revision: z.int().min(1) };

const startSchema = z.object(words);
const wordsSchema = z.object({ ...draftRef, ...words });
const limitsSchema = z.object({
  ...draftRef,
  part: z.string().refine((part) => LIMIT_PARTS.has(part), { error: 'There is no such part.' }),
  texts: z.map(z.string().max(80), z.string().max(200)),
});
const discardSchema = z.object(draftRef);

/** A draft is work on the record’s protocol: for stewards of the registry itself. */
export function authoriseDrafts(actor: Actor | undefined): asserts actor is Actor {
  authorise(actor, 'manageProtocol', undefined, RECORD);
}

/** Begins a draft with everything that the version in force states. */
export async function startDraft(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<{ draftId: string }> {
  const { label, summary } = parseInput(startSchema, input);
  authoriseDrafts(actor);
  const at = registry.now();
  return withLabel(label, () =>
    registry.db.$transaction(async (tx) => {
      await requireFreeLabel(tx, label);
      const base = await activeProtocolVersion(tx);
      if (base === null) throw new Conflict('No version is in force that a draft could begin with.');
      const draftId = await insertDraft(tx, {
        label,
        summary,
        parameters: readStoredParameters(base.parameters),
        basedOnId: base.id,
        createdById: actor.accountId,
        at,
      });
      await told(tx, actor, { act: 'protocol.draft', draftId, at, details: { label, from: base.label } });
      return { draftId };
    }),
  );
}

/** Another label or summary. */
export async function describeDraft(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<void> {
  const { draftId, revision, label, summary } = parseInput(wordsSchema, input);
  authoriseDrafts(actor);
  const at = registry.now();
  await withLabel(label, () =>
    registry.db.$transaction(async (tx) => {
      const draft = await requireDraft(tx, draftId);
      await requireFreeLabel(tx, label, draftId);
      if (!(await saveDraft(tx, { id: draftId, revision, at }, { label, summary })))
        throw movedOn(await requireDraft(tx, draftId));
      const renamed: Record<string, string> = draft.label === label ? {} : { before: draft.label };
      await told(tx, actor, { act: 'protocol.edit', draftId, at, details: { label, ...renamed } });
    }),
  );
}

/** One part of the limits as a form has them; what is wrong is told beside its field. Gives the new revision. */
export async function saveDraftLimits(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<{ revision: number }> {
  const { draftId, revision, part, texts } = parseInput(limitsSchema, input);
  authoriseDrafts(actor);
  const limitPart = LIMIT_PARTS.get(part);
  if (limitPart === undefined) throw new NotFound('There is no such part.');
  const at = registry.now();
  await registry.db.$transaction(async (tx) => {
    const draft = await requireDraft(tx, draftId);
    const edited = editedLimits(readStoredParameters(draft.parameters), limitPart, texts);
    if (!edited.ok) throw new InvalidInput(edited.issues);
    if (!(await saveDraft(tx, { id: draftId, revision, at }, { parameters: edited.parameters })))
      throw movedOn(await requireDraft(tx, draftId));
    await told(tx, actor, { act: 'protocol.edit', draftId, at, details: { label: draft.label, part } });
  });
  return { revision: revision + 1 };
}

/** Throws a draft away, with its dry run; what is announced or in force stays. */
export async function discardDraft(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<void> {
  const { draftId, revision } = parseInput(discardSchema, input);
  authoriseDrafts(actor);
  const at = registry.now();
  await registry.db.$transaction(async (tx) => {
    const draft = await requireDraft(tx, draftId);
    if (!(await deleteDraft(tx, draftId, revision))) throw movedOn(draft);
    await told(tx, actor, { act: 'protocol.discard', draftId, at, details: { label: draft.label } });
  });
}

export async function requireDraft(db: Queryable, id: string): Promise<StoredDraft> {
  const draft = await draftById(db, id);
  if (draft === null) throw new NotFound('There is no such draft.');
  return draft;
}

/** Why a write on a draft did not go through. */
export function movedOn({ label, activateAt, publishedAsId }: StoredDraft): Conflict {
  if (publishedAsId !== null)
    return new Conflict(`Version ${label} came into force and is not changed any more.`);
  if (activateAt !== null) return new Conflict(`Version ${label} is announced. Take it back to change it.`);
  return new Conflict('The draft was changed in another window. Reload to see how it stands.');
}

export async function told(
  tx: Queryable,
  actor: Actor,
  {
    act,
    draftId,
    at,
    details,
  }: { act: string; draftId: string; at: Date; details: Record<string, string | number> },
): Promise<void> {
  await appendAudit(tx, {
    at,
    actorId: actor.accountId,
    action: act,
    subjectKind: 'protocolDraft',
    subjectId: draftId,
    details,
  });
}

async function requireFreeLabel(db: Queryable, label: string, exceptDraftId?: string): Promise<void> {
  // What this release ships is published as it is, and under its label only.
  if (label === NEWEST_VERSION.label || (await isLabelTaken(db, label, exceptDraftId)))
    throw labelTaken(label);
}

async function withLabel<Done>(label: string, work: () => Promise<Done>): Promise<Done> {
  try {
    return await work();
  } catch (error) {
    if (isUniqueViolation(error)) throw labelTaken(label);
    throw error;
  }
}

function labelTaken(label: string): InvalidInput {
  return new InvalidInput([
    {
      path: 'label',
      what: `Version ${label} is there already.`,
      why: 'Every run names the version that judged it.',
      fix: 'Choose another label.',
    },
  ]);
}
