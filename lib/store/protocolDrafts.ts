import type { ProtocolParameters } from '@/lib/protocol/parameters';
import { asJson } from './asJson';
import type { Queryable } from './database';
import { PERSON } from './names';

/** Versions that stewards work on, until they are put in force or thrown away. */

const DRAFT = {
  id: true,
  label: true,
  summary: true,
  parameters: true,
  revision: true,
  createdAt: true,
  editedAt: true,
  activateAt: true,
  announcedAt: true,
  announcedById: true,
  publishedAsId: true,
  basedOn: { select: { label: true } },
  createdBy: { select: PERSON },
  announcedBy: { select: PERSON },
} as const;

/** The newest first. */
export function listDrafts(db: Queryable, take: number) {
  return db.protocolDraft.findMany({
    orderBy: [{ createdAt: 'desc' }, { id: 'desc' }],
    take,
    select: DRAFT,
  });
}

export function draftById(db: Queryable, id: string) {
  return db.protocolDraft.findUnique({ where: { id }, select: DRAFT });
}

export type StoredDraft = NonNullable<Awaited<ReturnType<typeof draftById>>>;

/** The one that is to come into force on a day. */
export function announcedDraft(db: Queryable) {
  return db.protocolDraft.findFirst({
    where: { activateAt: { not: null }, publishedAsId: null },
    select: DRAFT,
  });
}

/** Held until the transaction ends, so that nobody edits or takes back what is being put in force. */
export async function holdDueDraft(tx: Queryable, now: Date): Promise<string | undefined> {
  const rows = await tx.$queryRaw<{ id: string }[]>`
    SELECT "id"::text FROM "ProtocolDraft"
    WHERE "activateAt" <= ${now} AND "publishedAsId" IS NULL
    ORDER BY "activateAt" LIMIT 1 FOR UPDATE`;
  return rows[0]?.id;
}

/** Labels of versions and drafts are one list of names. */
export async function isLabelTaken(db: Queryable, label: string, exceptDraftId?: string): Promise<boolean> {
  const version = await db.protocolVersion.findUnique({ where: { label }, select: { id: true } });
  const draft = await db.protocolDraft.findUnique({ where: { label }, select: { id: true } });
  return version !== null || (draft !== null && draft.id !== exceptDraftId);
}

export async function insertDraft(
  db: Queryable,
  {
    at,
    parameters,
    ...draft
  }: {
    label: string;
    summary: string;
    parameters: ProtocolParameters;
    basedOnId: string;
    createdById: string;
    at: Date;
  },
): Promise<string> {
  const { id } = await db.protocolDraft.create({
    data: { ...draft, parameters: asJson(parameters), createdAt: at, editedAt: at },
    select: { id: true },
  });
  return id;
}

/** A draft that is worked on: neither announced nor in force, and as it was when the steward looked. */
const open = (id: string, revision: number) => ({ id, revision, activateAt: null, publishedAsId: null });

/** One revision on; false where somebody was first, or it is no longer worked on. */
export async function saveDraft(
  tx: Queryable,
  { id, revision, at }: { id: string; revision: number; at: Date },
  to: { label?: string; summary?: string; parameters?: ProtocolParameters },
): Promise<boolean> {
  const { parameters, ...words } = to;
  const { count } = await tx.protocolDraft.updateMany({
    where: open(id, revision),
    data: {
      ...words,
      ...(parameters === undefined ? {} : { parameters: asJson(parameters) }),
      revision: revision + 1,
      editedAt: at,
    },
  });
  return count === 1;
}

export async function deleteDraft(tx: Queryable, id: string, revision: number): Promise<boolean> {
  const { count } = await tx.protocolDraft.deleteMany({ where: open(id, revision) });
  return count === 1;
}

export async function announceDraft(
  tx: Queryable,
  { id, revision }: { id: string; revision: number },
  announcement: { activateAt: Date; announcedAt: Date; announcedById: string },
): Promise<boolean> {
  const { count } = await tx.protocolDraft.updateMany({ where: open(id, revision), data: announcement });
  return count === 1;
}

/** False where none is announced any more, as when it came into force. */
export async function takeBackDraft(tx: Queryable, id: string): Promise<boolean> {
  const { count } = await tx.protocolDraft.updateMany({
    where: { id, activateAt: { not: null }, publishedAsId: null },
    data: { activateAt: null, announcedAt: null, announcedById: null },
  });
  return count === 1;
}

/** Of a draft that nobody else published meanwhile. */
export async function markPublished(tx: Queryable, id: string, publishedAsId: string): Promise<boolean> {
  const { count } = await tx.protocolDraft.updateMany({
    where: { id, publishedAsId: null },
    data: { publishedAsId },
  });
  return count === 1;
}
