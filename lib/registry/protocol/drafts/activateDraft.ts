import { z } from 'zod';
import { requireFresh } from '@/lib/access/fresh';
import { readStoredParameters } from '@/lib/protocol/stored';
import { Conflict, InvalidInput } from '@/lib/run/errors';
import { dateText, dayWords, midnightUtc } from '@/lib/run/localDate';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { isExclusionViolation, isUniqueViolation } from '@/lib/store/database';
import { enqueueJob } from '@/lib/store/jobs';
import { holdActiveProtocol } from '@/lib/store/protocol';
import {
  announceDraft,
  announcedDraft,
  holdDueDraft,
  markPublished,
  takeBackDraft,
} from '@/lib/store/protocolDrafts';
import type { Registry } from '../../registry';
import { isAnnounced, putInForce, wasFirst } from '../putInForce';
import { authoriseDrafts, movedOn, requireDraft, told } from './editDraft';

/** Jobs of this kind put in force what was announced for a day that has come, whatever their key. */
export const ACTIVATE_JOB = 'activateProtocol';

const DAY_MS = 24 * 60 * 60 * 1000;
/** Longer ahead nobody keeps in mind what was announced. Own judgement. */
const FURTHEST_DAYS = 366;

const publishSchema = z.object({
  draftId: z.uuid(),
  revision: z.int().min(1),
  /** The version in force whose differences the steward read. */
  seenVersionId: z.uuid(),
  /** A day by UTC, from whose beginning on it holds; empty: at once. */
  day: z.union([z.literal(''), z.iso.date()], {
    error:
      'This is no day. | The version comes into force as it begins, by UTC. | Choose one from the calendar.',
  }),
  isConfirmed: z.literal(true, {
    error:
      'Not confirmed. | From then on every run that is sent in is judged by the new version. | Read the differences and tick the box.',
  }),
});

/** Puts a draft in force at once, or announces the day on which it comes into force. */
export async function publishDraft(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<{ label: string; from: string | undefined }> {
  const { draftId, revision, seenVersionId, day } = parseInput(publishSchema, input);
  authoriseDrafts(actor);
  const at = registry.now();
  requireFresh(actor, at);
  const activateAt = day === '' ? undefined : requireDay(day, at);
  try {
    return await registry.db.$transaction(async (tx) => {
      const draft = await requireDraft(tx, draftId);
      const { label, summary } = draft;
      if (draft.revision !== revision || draft.publishedAsId !== null || draft.activateAt !== null)
        throw movedOn(draft);
      const other = await announcedDraft(tx);
      if (other !== null) throw isAnnounced(other.label);
      if ((await holdActiveProtocol(tx)) !== seenVersionId) throw wasFirst();
      const announcement = {
        activateAt: activateAt ?? at,
        announcedAt: at,
        announcedById: actor.accountId,
      };
      // Also at once: the conditional update is what two stewards cannot both pass.
      if (!(await announceDraft(tx, { id: draftId, revision }, announcement))) throw movedOn(draft);
      if (activateAt === undefined) {
        const parameters = readStoredParameters(draft.parameters);
        const by = { seenVersionId, by: actor.accountId, at };
        const id = await putInForce(tx, { label, summary, parameters }, by);
        if (!(await markPublished(tx, draftId, id))) throw movedOn(draft);
        return { label, from: undefined };
      }
      await enqueueJob(tx, ACTIVATE_JOB, `${draftId} ${day}`, activateAt);
      await told(tx, actor, { act: 'protocol.announce', draftId, at, details: { label, from: day } });
      return { label, from: day };
    });
  } catch (error) {
    if (isUniqueViolation(error) || isExclusionViolation(error)) throw wasFirst();
    throw error;
  }
}

function requireDay(day: string, now: Date): Date {
  const at = midnightUtc(day);
  const last = dateText(new Date(now.getTime() + FURTHEST_DAYS * DAY_MS));
  if (at > now && day <= last) return at;
  throw new InvalidInput([
    {
      path: 'day',
      what: at > now ? 'This day is too far ahead.' : 'This day has begun already.',
      why: `By UTC it is ${dayWords(dateText(now))} now; a version comes into force as a day begins.`,
      fix: `Choose a day after today, up to ${dayWords(last)}, or leave it empty to publish at once.`,
    },
  ]);
}

const takeBackSchema = z.object({ draftId: z.uuid() });

/** Makes an announced version a draft again, before its day. */
export async function takeBackAnnouncement(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<{ label: string }> {
  const { draftId } = parseInput(takeBackSchema, input);
  authoriseDrafts(actor);
  const at = registry.now();
  requireFresh(actor, at);
  return registry.db.$transaction(async (tx) => {
    const { label, activateAt } = await requireDraft(tx, draftId);
    if (!(await takeBackDraft(tx, draftId)))
      throw new Conflict('It is not announced any more: it came into force, or was taken back.');
    await told(tx, actor, {
      act: 'protocol.takeBack',
      draftId,
      at,
      details: { label, announcedFor: dateText(activateAt) },
    });
    return { label };
  });
}

/** Puts in force what was announced for a day that has come; the log names who announced it. */
export async function activateDue(registry: Registry): Promise<string | undefined> {
  const at = registry.now();
  return registry.db.$transaction(async (tx) => {
    const draftId = await holdDueDraft(tx, at);
    if (draftId === undefined) return undefined;
    const { label, summary, announcedAt, announcedById, ...draft } = await requireDraft(tx, draftId);
    if (announcedAt === null || announcedById === null) return undefined;
    const parameters = readStoredParameters(draft.parameters);
    const id = await putInForce(tx, { label, summary, parameters }, { by: announcedById, announcedAt, at });
    await markPublished(tx, draftId, id);
    return label;
  });
}
