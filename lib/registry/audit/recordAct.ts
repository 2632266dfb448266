import type { NotAllowed } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
import { type AuditRecord, appendAudit } from '@/lib/store/audit';
import { appendOrCount, takeRepeats } from '@/lib/store/auditRepeats';
import type { Registry } from '../registry';

/** What recording takes. */
type Recorder = Pick<Registry, 'db' | 'now'>;

type Act = Omit<AuditRecord, 'at' | 'personal'>;

/** Acts of one kind by one person on one thing within this time are one entry and a count. */
const TOGETHER_MS = 60_000;
/** Counts that are written out at a time. */
const MOST_AT_ONCE = 500;

const PRIVATE_READ = 'private.read';

/**
 * Records an act that writes nothing else: signing in or failing to, being refused, taking out or reading what is
 * private. Such acts cost whoever does them nothing, so a flood of them must not fill the disk: what one person does to
 * one thing within a minute is one entry, and one more with how often it was when the minute is over.
 */
export async function recordAct(registry: Recorder, act: Act): Promise<void> {
  await record(registry, act, `${act.subjectKind} ${act.subjectId}`);
}

function record({ db, now }: Recorder, act: Act, per: string): Promise<void> {
  return appendOrCount(db, `${act.actorId ?? 'nobody'} ${act.action} ${per}`, { ...act, at: now() });
}

/**
 * Records that something was refused. What was refused has been undone by now, and this must not be: call it where the
 * refusal is answered. A record that fails is reported, as the answer must not change with it.
 */
export async function recordRefusal(registry: Recorder, { asked, message }: NotAllowed): Promise<void> {
  const act = {
    actorId: asked.accountId,
    action: 'access.refused',
    subjectKind: 'act',
    subjectId: asked.act,
    details: { answer: message },
  };
  try {
    await record(registry, act, asked.act);
  } catch (error) {
    console.error('A refusal could not be recorded.', error);
  }
}

/** Somebody reads what is private to another; again within the minute is the same reading. */
export function recordPrivateRead(
  registry: Recorder,
  actor: Actor | undefined,
  subject: { kind: string; id: string },
): Promise<void> {
  return recordAct(registry, {
    actorId: actor?.accountId,
    action: PRIVATE_READ,
    subjectKind: subject.kind,
    subjectId: subject.id,
  });
}

/** Somebody takes a file out that is private to another. */
export function recordPrivateExport(
  registry: Recorder,
  actor: Actor | undefined,
  subject: { kind: string; id: string; file: string },
): Promise<void> {
  return recordAct(registry, {
    actorId: actor?.accountId,
    action: 'private.export',
    subjectKind: subject.kind,
    subjectId: subject.id,
    details: { file: subject.file },
  });
}

/** Writes down what was counted in minutes that are over. */
export async function closeRepeats({ db, now }: Recorder): Promise<void> {
  const at = now();
  await db.$transaction(async (tx) => {
    const before = new Date(at.getTime() - TOGETHER_MS);
    for (const { since, times, actorId, details, ...act } of await takeRepeats(tx, before, MOST_AT_ONCE)) {
      if (times === 0 || act.action === PRIVATE_READ) continue;
      const counted = { ...details, more: times, since: since.toISOString() };
      await appendAudit(tx, { ...act, at, actorId: actorId ?? undefined, details: counted });
    }
  });
}
