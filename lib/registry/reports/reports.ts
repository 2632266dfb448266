import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { may } from '@/lib/access/permissions';
import { Conflict, NotFound } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import {
  REPORT_DECISIONS,
  REPORT_REASONS,
  REPORTED_KINDS,
  type ReportedKind,
  reportedHref,
  reportedWords,
} from '@/lib/run/reports';
import type { Actor } from '@/lib/run/roles';
import { onlyWorldOf, type WorldKey, worldKey } from '@/lib/run/world';
import { appendAudit } from '@/lib/store/audit';
import { insertNotification } from '@/lib/store/notices';
import {
  countReports,
  listReports,
  type Reportable,
  reportablesById,
  reportById,
  settleReportRow,
} from '@/lib/store/publicReports';
import { keyPart, type Page, readPage } from '../keyset';
import type { Registry } from '../registry';

const PAGE_SIZE = 25;

export interface ReportRow {
  id: string;
  world: WorldKey;
  /** What it is about; undefined where that is not public any more. */
  about: { words: string; href: string } | undefined;
  kind: ReportedKind;
  reason: string;
  words: string;
  by: { displayName: string; slug: string };
  at: string;
  settled: { at: string; by: string; decision: string; answer: string } | undefined;
  maySettle: boolean;
}

/** What was reported, the latest first: what waits, or what was settled. */
export async function readReports(
  registry: Registry,
  actor: Actor | undefined,
  { isOpen, from }: { isOpen: boolean; from?: string | undefined },
): Promise<Page<ReportRow> & { total: number }> {
  authorise(actor, 'readReports');
  const filter = { isOpen, onlyWorld: onlyWorldOf(actor) };
  const [page, total] = await Promise.all([
    readPage(from, {
      size: PAGE_SIZE,
      key: z.tuple([keyPart.instant, keyPart.uuid]),
      read: (place, take) => listReports(registry.db, filter, place, take),
      keyOf: ({ reportedAt, id }) => [reportedAt.toISOString(), id],
    }),
    countReports(registry.db, filter),
  ]);
  const things = new Map<string, Reportable>();
  for (const kind of REPORTED_KINDS) {
    const ids = page.rows.filter((row) => row.kind === kind).map(({ subjectId }) => subjectId);
    if (ids.length > 0)
      for (const [id, thing] of await reportablesById(registry.db, kind, ids)) things.set(id, thing);
  }
  return {
    ...page,
    total,
    rows: page.rows.map((row) => {
      const kind = kindOf(row.kind);
      const thing = things.get(row.subjectId);
      return {
        id: row.id,
        world: worldKey(row.world),
        kind,
        about: thing && { words: reportedWords(kind, thing.name), href: reportedHref(kind, thing.key) },
        reason: wordsOf(REPORT_REASONS, row.reason),
        words: row.words,
        by: row.by,
        at: row.reportedAt.toISOString(),
        settled:
          row.settledAt === null
            ? undefined
            : {
                at: row.settledAt.toISOString(),
                by: row.settledBy?.displayName ?? '',
                decision: wordsOf(REPORT_DECISIONS, row.decision ?? ''),
                answer: row.answer ?? '',
              },
        maySettle: row.settledAt === null && isOthers(actor, row),
      };
    }),
  };
}

const settleSchema = z.object({
  reportId: z.uuid(),
  decision: z.enum(Object.keys(REPORT_DECISIONS) as [keyof typeof REPORT_DECISIONS], {
    error: 'No decision is chosen. | Who reported it is told what came of it. | Choose one.',
  }),
  answer: z
    .string()
    .trim()
    .min(10, 'The answer is missing. | Who reported it reads it. | Say what was found, in a sentence.')
    .max(1000, 'The answer is too long. | It stands in a notice. | Keep it under 1000 characters.'),
});

/** Settles a report, once; who sent it is told. Nobody settles their own, or one about something of theirs. */
export async function settleReport(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<void> {
  authorise(actor, 'readReports');
  const { reportId, decision, answer } = parseInput(settleSchema, input);
  const report = await reportById(registry.db, reportId);
  if (report === null) throw new NotFound('This report does not exist.');
  authorise(actor, 'settleReport', report.byId, worldKey(report.world));
  if (!isOthers(actor, report))
    throw new Conflict('It is about something of yours: another reviewer settles it.');
  const kind = kindOf(report.kind);
  const thing = (await reportablesById(registry.db, kind, [report.subjectId])).get(report.subjectId);
  await registry.db.$transaction(async (tx) => {
    const at = registry.now();
    const settled = { settledAt: at, settledById: actor.accountId, decision, answer };
    if (!(await settleReportRow(tx, reportId, settled)))
      throw new Conflict('Somebody else settled this report a moment ago.');
    const about = thing ? reportedWords(kind, thing.name) : `a ${kind}`;
    await insertNotification(tx, {
      accountId: report.byId,
      runId: null,
      kind: 'report.settle',
      text: `Your report on ${about}: ${REPORT_DECISIONS[decision].toLowerCase()}. ${answer}`,
      href: thing ? reportedHref(kind, thing.key) : '/notifications',
      createdAt: at,
    });
    await appendAudit(tx, {
      at,
      actorId: actor.accountId,
      action: 'report.settle',
      subjectKind: kind === 'tester' ? 'account' : kind,
      subjectId: report.subjectId,
      details: { decision },
    });
  });
}

function isOthers(actor: Actor, report: { byId: string; ownerId: string | null; world: string }): boolean {
  return (
    may(actor, 'settleReport', report.byId, worldKey(report.world)) && report.ownerId !== actor.accountId
  );
}

function kindOf(stored: string): ReportedKind {
  return REPORTED_KINDS.find((kind) => kind === stored) ?? 'run';
}

function wordsOf(words: Readonly<Record<string, string>>, key: string): string {
  return Object.hasOwn(words, key) ? (words[key] ?? key) : key;
}
