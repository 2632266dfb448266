import { z } from 'zod';
import { requireSignedIn } from '@/lib/access/authorise';
import { refuseSuspended } from '@/lib/access/suspension';
import { Conflict, NotFound, TooSoon } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import { REPORT_REASONS, REPORTED_KINDS, REPORTS_A_DAY, type ReportedKind } from '@/lib/run/reports';
import type { Actor } from '@/lib/run/roles';
import { isSlug } from '@/lib/run/slug';
import { onlyWorldOf, worldKey } from '@/lib/run/world';
import { appendAudit } from '@/lib/store/audit';
import type { Queryable } from '@/lib/store/database';
import { insertReport, type Reportable, reportableByKey, reportsSince } from '@/lib/store/publicReports';
import type { Registry } from '../registry';

const DAY_MS = 24 * 60 * 60 * 1000;
const REASONS = Object.keys(REPORT_REASONS) as [keyof typeof REPORT_REASONS];

const sendSchema = z.object({
  kind: z.enum(REPORTED_KINDS),
  key: z.string().max(200),
  reason: z.enum(REASONS, {
    error: 'No reason is chosen. | Reviewers look for different things by it. | Choose what comes nearest.',
  }),
  words: z
    .string()
    .trim()
    .min(
      10,
      'What you saw is missing. | Reviewers have to find it. | Say what it is and where, in a sentence.',
    )
    .max(1000, 'This is too long. | Reviewers read it whole. | Keep it under 1000 characters.'),
});

/**
 * Tells reviewers and stewards of something on a public page. Nobody else ever reads it; who sent it is told what came of
 * it. A handful a day, and one at a time about one thing.
 */
export async function sendReport(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<void> {
  requireSignedIn(actor);
  refuseSuspended(actor, 'report');
  const { kind, key, reason, words } = parseInput(sendSchema, input);
  await registry.db.$transaction(async (tx) => {
    const thing = await requireThing(tx, actor, kind, key);
    const at = registry.now();
    const since = new Date(at.getTime() - DAY_MS);
    if ((await reportsSince(tx, actor.accountId, since)) >= REPORTS_A_DAY) throw tooMany();
    const report = {
      world: worldKey(thing.world),
      kind,
      subjectId: thing.id,
      ownerId: thing.ownerId,
      byId: actor.accountId,
      reason,
      words,
      reportedAt: at,
    };
    if (!(await insertReport(tx, report)))
      throw new Conflict('You have reported this already: it waits for a reviewer.');
    await appendAudit(tx, {
      at,
      actorId: actor.accountId,
      action: 'report.send',
      subjectKind: kind === 'tester' ? 'account' : kind,
      subjectId: thing.id,
      details: { reason },
    });
  });
}

/** What the form says it is about. */
export async function readReportable(
  registry: Registry,
  actor: Actor | undefined,
  { kind, key }: { kind: ReportedKind; key: string },
): Promise<Reportable> {
  requireSignedIn(actor);
  return requireThing(registry.db, actor, kind, key);
}

async function requireThing(
  db: Queryable,
  actor: Actor,
  kind: ReportedKind,
  key: string,
): Promise<Reportable> {
  const isKey = kind === 'run' ? /^[1-9]\d{0,8}$/.test(key) : isSlug(key);
  const thing = isKey ? await reportableByKey(db, kind, key) : null;
  const only = onlyWorldOf(actor);
  if (thing === null || (only !== undefined && thing.world !== only))
    throw new NotFound('There is no such public page.');
  return thing;
}

function tooMany(): TooSoon {
  return new TooSoon(DAY_MS / 1000, {
    path: '',
    what: `You have sent ${REPORTS_A_DAY} reports within a day, as many as you may.`,
    why: 'Each is read by a person.',
    fix: 'Send the next one tomorrow, and write what belongs together as one.',
  });
}
