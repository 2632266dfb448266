import { authorise } from '@/lib/access/authorise';
import type { Actor } from '@/lib/run/roles';
import { searchText } from '@/lib/run/storableText';
import { onlyWorldOf, type WorldKey } from '@/lib/run/world';
import { accountBySlug, listAccounts } from '@/lib/store/accounts';
import { auditActions, auditEntries, countAuditEntries } from '@/lib/store/audit';
import { countUnsealed, latestHead } from '@/lib/store/auditSeals';
import { runOwner } from '@/lib/store/runLists';
import { wordsOfAct } from '@/lib/trail/acts';
import { detailWords } from '@/lib/trail/detailWords';
import { keyPart, readPage } from '../keyset';
import type { Registry } from '../registry';
import { recordPrivateRead } from './recordAct';
import { subjectsOf } from './subjects';

const PAGE_SIZE = 50;
/** People of a name to choose among. */
const MOST_PEOPLE = 12;
const LARGEST_NUMBER = 2_147_483_647;

export interface AuditQuery {
  from?: string | undefined;
  action?: string | undefined;
  /** The name of a person's own address, or part of what they are called. */
  person?: string | undefined;
  /** A run's number. */
  run?: string | undefined;
}

interface Person {
  id: string;
  displayName: string;
  slug: string;
}

/** One page of the audit log, newest first; for a steward of the demo world, what was done in that world. */
export async function readAuditLog(registry: Registry, actor: Actor | undefined, query: AuditQuery) {
  authorise(actor, 'readAuditLog');
  await recordPrivateRead(registry, actor, { kind: 'list', id: 'auditLog' });
  const { db } = registry;
  // No action holds a NUL, and the database could not look for one.
  const action = query.action?.replaceAll('\0', '');
  const onlyWorld = onlyWorldOf(actor);
  const [people, runId] = await Promise.all([
    peopleCalled(registry, query.person, onlyWorld),
    runOf(registry, query.run),
  ]);
  // Of several nobody is meant yet, and a name or number that nobody has finds nothing.
  const isNothing = (people !== undefined && people.length !== 1) || runId === null;
  const filter = { action, onlyWorld, accountId: people?.[0]?.id, runId: runId ?? undefined };
  const [page, total, actions, seal] = await Promise.all([
    readPage(query.from, {
      size: PAGE_SIZE,
      key: keyPart.bigint,
      read: async (place, take) => (isNothing ? [] : auditEntries(db, filter, place, take)),
      keyOf: ({ id }) => String(id),
    }),
    isNothing ? 0 : countAuditEntries(db, filter),
    auditActions(db),
    sealStanding(registry),
  ]);
  const subject = await subjectsOf(db, page.rows);
  return {
    ...page,
    total,
    actions: actions.map((value) => ({ value, label: wordsOfAct(value) })),
    seal,
    /** Undefined where nobody was asked for; of several, one is to be chosen. */
    people: people?.map(({ displayName, slug }) => ({ displayName, slug })),
    rows: page.rows.map((entry) => ({
      id: String(entry.id),
      at: entry.at.toISOString(),
      act: wordsOfAct(entry.action),
      subject: subject(entry),
      details: [detailWords(entry.details), detailWords(entry.personal)].filter(Boolean).join('; '),
      actor: entry.actor?.displayName ?? 'the registry',
      actorSlug: entry.actor?.slug,
    })),
  };
}

async function peopleCalled(
  { db }: Registry,
  given: string | undefined,
  onlyWorld: WorldKey | undefined,
): Promise<Person[] | undefined> {
  const text = searchText(given);
  if (text === undefined) return undefined;
  const exact = await accountBySlug(db, text);
  if (exact !== null && (onlyWorld === undefined || exact.world === onlyWorld)) return [exact];
  return listAccounts(db, { text, onlyWorld }, undefined, MOST_PEOPLE);
}

/** Null where no run has the number; undefined where none was asked for. */
async function runOf({ db }: Registry, given: string | undefined): Promise<string | null | undefined> {
  const text = searchText(given);
  if (text === undefined) return undefined;
  const number = Number(text.replace(/^run\s+/i, ''));
  if (!Number.isInteger(number) || number < 1 || number > LARGEST_NUMBER) return null;
  return (await runOwner(db, number))?.id ?? null;
}

/** How far the log is sealed. */
async function sealStanding({ db }: Registry) {
  const head = await latestHead(db);
  const unsealed = await countUnsealed(db, head?.toId ?? -1n);
  return {
    unsealed,
    head: head && { number: head.number, sealedAt: head.sealedAt.toISOString(), hash: head.hash },
  };
}
