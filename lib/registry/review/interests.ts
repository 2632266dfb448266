import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { Conflict, InvalidInput } from '@/lib/run/errors';
import { modelWords } from '@/lib/run/modelWords';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { onlyWorldOf } from '@/lib/run/world';
import { appendAudit } from '@/lib/store/audit';
import { isUniqueViolation } from '@/lib/store/database';
import {
  endInterestOf,
  insertInterest,
  interestSubjectsNamed,
  MOST_INTERESTS,
  namesOfInterests,
  openInterests,
} from '@/lib/store/interests';
import type { Registry } from '../registry';

export const INTEREST_KINDS = ['account', 'maker', 'model'] as const;
type InterestKind = (typeof INTEREST_KINDS)[number];

export interface InterestRow {
  id: string;
  kind: InterestKind;
  words: string;
  since: string;
}

const declareSchema = z.object({
  kind: z.enum(INTEREST_KINDS, {
    error: 'Nothing is chosen. | An interest is in somebody or something. | Choose one of the three.',
  }),
  name: z
    .string()
    .trim()
    .min(1, 'No name is given. | It has to be found among those here. | Give the name or the page’s address.')
    .max(200),
});

/** A reviewer says whose runs they keep out of; from then on the server holds them to it. */
export async function declareInterest(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<void> {
  authorise(actor, 'declareInterest');
  const { kind, name } = parseInput(declareSchema, input);
  const slug = (name.split(/[?#]/)[0] ?? name).replace(/\/+$/, '').split('/').at(-1) ?? name;
  const found = await interestSubjectsNamed(registry.db, { kind, name, slug, onlyWorld: onlyWorldOf(actor) });
  const subject = found[0];
  if (subject === undefined || found.length > 1) throw new InvalidInput([unclear(found.length)]);
  if (subject.id === actor.accountId)
    throw new Conflict('Nobody decides on their own runs: this one need not be declared.');
  if ((await openInterests(registry.db, actor.accountId)).length >= MOST_INTERESTS)
    throw new Conflict(`At most ${MOST_INTERESTS} interests can be declared: end one first.`);
  try {
    await registry.db.$transaction(async (tx) => {
      const at = registry.now();
      const of = { kind, subjectId: subject.id };
      await insertInterest(tx, { accountId: actor.accountId, ...of, declaredAt: at });
      await audit(tx, actor, 'review.declareInterest', of, at);
    });
  } catch (error) {
    if (!isUniqueViolation(error)) throw error;
    throw new Conflict('You have declared this interest already.');
  }
}

/** From then on the reviewer may decide on such runs again; that it was declared stays in the log. */
export async function endInterest(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<void> {
  authorise(actor, 'declareInterest');
  const { id } = parseInput(z.object({ id: z.uuid() }), input);
  await registry.db.$transaction(async (tx) => {
    const at = registry.now();
    const of = await endInterestOf(tx, id, actor.accountId, at);
    if (of === null) throw new Conflict('This interest is not yours, or was ended already.');
    await audit(tx, actor, 'review.endInterest', of, at);
  });
}

/** The actor's own, the first declared first. */
export async function readInterests(registry: Registry, actor: Actor | undefined): Promise<InterestRow[]> {
  authorise(actor, 'declareInterest');
  const rows = await openInterests(registry.db, actor.accountId);
  const { accounts, makers, models } = await namesOfInterests(
    registry.db,
    rows.map(({ subjectId }) => subjectId),
  );
  const words = new Map<string, string>([
    ...accounts.map(({ id, displayName }) => [id, displayName] as const),
    ...makers.map(({ id, name }) => [id, name] as const),
    ...models.map((model) => [model.id, modelWords(model)] as const),
  ]);
  return rows.flatMap(({ id, kind, subjectId, declaredAt }) => {
    const known = INTEREST_KINDS.find((one) => one === kind);
    if (known === undefined) return [];
    return [
      { id, kind: known, words: words.get(subjectId) ?? 'no longer here', since: declaredAt.toISOString() },
    ];
  });
}

function audit(
  tx: Parameters<typeof appendAudit>[0],
  actor: Actor,
  action: string,
  { kind, subjectId }: { kind: string; subjectId: string },
  at: Date,
) {
  const details = { kind, of: subjectId };
  const subject = { subjectKind: 'account', subjectId: actor.accountId };
  return appendAudit(tx, { at, actorId: actor.accountId, action, ...subject, details });
}

function unclear(count: number) {
  return {
    path: 'name',
    what: count === 0 ? 'Nothing of this name is here.' : 'More than one has this name.',
    why: 'An interest is tied to one account, maker or model.',
    fix: 'Give the address of its page, or the name as that page has it.',
  };
}
