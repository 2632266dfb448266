import { setTimeout as delay } from 'node:timers/promises';
import pg from 'pg';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { NEWEST_VERSION } from '@/lib/protocol/versions/newestVersion';
import { activeProtocol, ensureReferenceData } from '@/lib/registry/protocol/activeProtocol';
import { readProtocolOffer } from '@/lib/registry/protocol/protocolOffer';
import { readProtocolPage } from '@/lib/registry/protocol/protocolPage';
import { publishProtocol } from '@/lib/registry/protocol/publishProtocol';
import { claimRun } from '@/lib/registry/review/claimRun';
import { decideReview } from '@/lib/registry/review/decideReview';
import { readQueue } from '@/lib/registry/review/queue';
import { readReview } from '@/lib/registry/review/review';
import { runJobsNow } from '@/lib/registry/runJobs';
import { readRun } from '@/lib/registry/runs/run';
import { submitRun } from '@/lib/registry/runs/submitRun';
import { Conflict, InvalidInput, NotAllowed } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
import type { RunForm } from '@/lib/run/runForm';
import { holdActiveProtocol } from '@/lib/store/protocol';
import { freshDatabase } from '@/test/helpers/database';
import { completeForm } from '@/test/helpers/runForms';
import {
  approve,
  approved,
  loopOf,
  person,
  registryOn,
  type SubmittedRunRef,
  submitted,
  vehicleOf,
} from '@/test/helpers/smallRegistry';
import { RULES_AFTER_ONE, STORED_VERSION_ONE } from '@/test/lib/protocol/versionsUnderTest';

/** A registry of release 0.1.0: version 1.0 in force, as that release stored it. */
const { prisma, connection } = await freshDatabase();
await prisma.protocolVersion.create({
  data: {
    label: STORED_VERSION_ONE.label,
    summary: STORED_VERSION_ONE.summary,
    parameters: JSON.parse(JSON.stringify(STORED_VERSION_ONE.parameters)),
    status: 'active',
    createdAt: new Date('2026-10-01T08:00:00Z'),
    adoptedAt: new Date('2026-10-01T08:00:00Z'),
  },
});
const { registry, clock, remove } = await registryOn(prisma);
afterAll(remove);

let steward: Actor;
let tester: Actor;
let reviewer: Actor;
let subjects: RunForm;
let old: SubmittedRunRef;
let waiting: SubmittedRunRef;
let seenVersionId: string;

const gusty = (day: string): RunForm => ({
  ...subjects,
  startedAtLocal: `2026-05-${day}T09:30`,
  windGust: '9',
});
const findingsOf = (run: SubmittedRunRef) =>
  prisma.finding.findMany({
    where: { revision: { runId: run.runId } },
    orderBy: [{ revision: { number: 'asc' } }, { ruleId: 'asc' }],
  });
/** Until a transaction of this database waits for another. */
async function waitForLock(): Promise<void> {
  for (let i = 0; i < 400; i += 1) {
    const [found] = await prisma.$queryRaw<{ waiting: number }[]>`
      SELECT count(*)::int AS "waiting" FROM pg_stat_activity
      WHERE datname = current_database() AND wait_event_type = 'Lock'`;
    if ((found?.waiting ?? 0) > 0) return;
    await delay(25);
  }
  throw new Error('nothing waits');
}
const auditOf = (action: string) => prisma.auditEntry.findMany({ where: { action } });

beforeAll(async () => {
  steward = await person(registry, 'Ines Rook', 'steward');
  tester = await person(registry, 'Mira Holm');
  reviewer = await person(registry, 'Ada Quill', 'reviewer');
  const vehicle = await vehicleOf(registry, tester);
  subjects = {
    carId: vehicle.carId,
    setupId: vehicle.baselineId,
    loopId: await loopOf(registry, tester),
  };
  old = await approved(registry, tester, reviewer, gusty('11'));
  waiting = await submitted(registry, tester, gusty('12'));
  await runJobsNow(registry);
  ({ id: seenVersionId } = await activeProtocol(registry));
});

describe('a registry filled under version 1.0', () => {
  it('keeps it at a start of this release, read as it was stored', async () => {
    await ensureReferenceData(registry);
    expect(await activeProtocol(registry)).toMatchObject({
      label: '1.0',
      parameters: STORED_VERSION_ONE.parameters,
    });
    const findings = await findingsOf(old);
    expect(findings.length).toBeGreaterThan(30);
    expect(findings.map(({ ruleId }) => ruleId)).not.toContain('gusts');
  });

  it('shows its steward what the shipped version would change', async () => {
    const view = await readProtocolOffer(registry, steward);
    expect(view).toMatchObject({
      inForce: { id: seenVersionId, label: '1.0', since: '2026-10-01' },
      offered: { label: '3.3', differences: { dropped: [], changes: [] } },
      mayPublish: true,
    });
    expect(view.offered?.differences.added.map(({ id }) => id)).toEqual(RULES_AFTER_ONE);
  });
});

describe('publishing', () => {
  const asked = () => ({ label: '3.3', seenVersionId, isConfirmed: true });

  it('is a steward’s, of the registry itself and not of the demo world', async () => {
    for (const who of [undefined, tester, reviewer, { ...steward, world: 'demo' as const }]) {
      await expect(publishProtocol(registry, who, asked())).rejects.toThrow(NotAllowed);
    }
    await expect(readProtocolOffer(registry, reviewer)).rejects.toThrow(NotAllowed);
    const demo = await readProtocolOffer(registry, { ...steward, world: 'demo' as const });
    expect(demo.mayPublish).toBe(false);
  });

  it('asks for the steward’s word, and for the versions that they saw', async () => {
    for (const isConfirmed of [false, undefined, 'yes']) {
      await expect(publishProtocol(registry, steward, { ...asked(), isConfirmed })).rejects.toMatchObject({
        issues: [{ path: 'isConfirmed', what: 'Not confirmed.' }],
      });
    }
    for (const wrong of [{ label: '' }, { seenVersionId: '__proto__' }, { label: 7 }]) {
      await expect(publishProtocol(registry, steward, { ...asked(), ...wrong })).rejects.toThrow(
        InvalidInput,
      );
    }
    for (const other of [{ label: '1.0' }, { seenVersionId: '018f0000-0000-7000-8000-000000000001' }]) {
      await expect(publishProtocol(registry, steward, { ...asked(), ...other })).rejects.toThrow(Conflict);
    }
    const incomplete = { label: '3.3', summary: '', parameters: (await activeProtocol(registry)).parameters };
    await expect(publishProtocol(registry, steward, asked(), incomplete)).rejects.toThrow(
      'The limits of “Steady wind” are missing.',
    );
    expect(await prisma.protocolVersion.count()).toBe(1);
    expect(await auditOf('protocol.publish')).toEqual([]);
  });

  it('happens once, whoever presses first, and is on record', async () => {
    clock.now = new Date('2026-11-02T09:00:00Z');
    const other = await person(registry, 'Joss Fell', 'steward');
    const before = [await findingsOf(old), await findingsOf(waiting)];
    const results = await Promise.allSettled([
      publishProtocol(registry, steward, asked()),
      publishProtocol(registry, other, asked()),
    ]);
    expect(results.filter(({ status }) => status === 'fulfilled')).toHaveLength(1);
    const lost = results.find((result) => result.status === 'rejected');
    expect(lost?.reason).toBeInstanceOf(Conflict);
    await expect(publishProtocol(registry, steward, asked())).rejects.toThrow(Conflict);

    const versions = await prisma.protocolVersion.findMany({ orderBy: { createdAt: 'asc' } });
    expect(versions.map(({ label, status }) => [label, status])).toEqual([
      ['1.0', 'retired'],
      ['3.3', 'active'],
    ]);
    expect(versions[0]?.retiredAt).toEqual(clock.now);
    expect(versions[1]?.parameters).toEqual(NEWEST_VERSION.parameters);
    expect(await auditOf('protocol.publish')).toMatchObject([
      { subjectId: versions[1]?.id, details: { label: '3.3', inPlaceOf: '1.0' } },
    ]);
    expect([await findingsOf(old), await findingsOf(waiting)]).toEqual(before);
    // It asks the same of a ranking: nothing is drawn anew.
    expect(await prisma.job.count({ where: { state: 'queued', kind: { not: 'judgeAgain' } } })).toBe(0);
    // what would fail by it is told of runs that count already
    expect(await prisma.job.count({ where: { state: 'queued', kind: 'judgeAgain' } })).toBe(2);
    expect((await readProtocolOffer(registry, steward)).offered).toBeUndefined();
  });
});

describe('after version 3.0 came into force', () => {
  it('judges a new run by it, and leaves old ones under theirs', async () => {
    const fresh = await submitted(registry, tester, gusty('13'));
    const view = await readRun(registry, tester, fresh.runNumber);
    expect(view?.findings.protocolLabel).toBe('3.3');
    expect(view?.findings.notable.map(({ ruleId }) => ruleId)).toContain('gusts');
    const before = await readRun(registry, undefined, old.runNumber);
    expect(before?.findings.protocolLabel).toBe('1.0');
    expect(before?.findings.notable.map(({ ruleId }) => ruleId)).not.toContain('gusts');
  });

  it('decides a waiting run under the version that judged it', async () => {
    await claimRun(registry, reviewer, { runId: waiting.runId });
    const review = await readReview(registry, reviewer, waiting.runNumber);
    expect(review.run.findings.protocolLabel).toBe('1.0');
    const askChanges = {
      runId: waiting.runId,
      revisionNumber: 1,
      kind: 'askChanges',
      reasons: [{ ruleId: 'gusts', text: 'Too gusty.' }],
    };
    // The rule is not one of version 1.0: nothing can rest on it.
    await expect(decideReview(registry, reviewer, askChanges)).rejects.toMatchObject({
      issues: [{ path: 'reasons.gusts' }],
    });
    await decideReview(registry, reviewer, {
      ...askChanges,
      reasons: [{ ruleId: 'wind', text: 'The report says 4 m/s.' }],
    });
  });

  it('judges a new revision of an old run by it, and shows what is new', async () => {
    const { draftVersion } = await prisma.run.findUniqueOrThrow({ where: { id: waiting.runId } });
    const form = completeForm({ ...gusty('12'), windSpeed: '3.6' });
    const again = await submitRun(registry, tester, { runId: waiting.runId, draftVersion, form });
    expect(again.revisionNumber).toBe(2);
    const review = await readReview(registry, reviewer, waiting.runNumber);
    expect(review.run.findings.protocolLabel).toBe('3.3');
    expect(review.run.revisions.map(({ protocolLabel }) => protocolLabel)).toEqual(['1.0', '3.3']);
    expect(review.changes?.findings).toContainEqual({
      ruleId: 'gusts',
      title: 'Steady wind',
      before: null,
      after: 'caution',
    });
  });

  it('refuses a decision on another revision than the one in question', async () => {
    await claimRun(registry, reviewer, { runId: waiting.runId });
    for (const revisionNumber of [1, 3]) {
      await expect(
        decideReview(registry, reviewer, { runId: waiting.runId, revisionNumber, kind: 'approve' }),
      ).rejects.toThrow(Conflict);
    }
    const run = await prisma.run.findUniqueOrThrow({ where: { id: waiting.runId } });
    expect([run.status, run.approvedRevision]).toEqual(['submitted', null]);
    expect(await prisma.decision.count({ where: { revision: { runId: waiting.runId, number: 2 } } })).toBe(0);
    await approve(registry, reviewer, { runId: waiting.runId, revisionNumber: 2 });
    expect((await prisma.run.findUniqueOrThrow({ where: { id: waiting.runId } })).approvedRevision).toBe(2);
  });

  it('lists both versions with what changed, each to be read whole', async () => {
    const now = await readProtocolPage(registry);
    expect(now?.label).toBe('3.3');
    expect(now?.versions.map(({ label, since }) => [label, since?.label])).toEqual([
      ['3.3', '1.0'],
      ['1.0', undefined],
    ]);
    expect(now?.versions[0]?.since?.differences.added.map(({ id }) => id)).toEqual(RULES_AFTER_ONE);
    const idsOf = (view: typeof now) => view?.groups.flatMap(({ rules }) => rules.map(({ id }) => id));
    const first = await readProtocolPage(registry, '1.0');
    expect(idsOf(now)).toContain('gusts');
    expect(idsOf(first)).toEqual(idsOf(now)?.filter((id) => !RULES_AFTER_ONE.includes(id)));
    expect(now?.further).toHaveLength(7);
    expect(await readProtocolPage(registry, '__proto__')).toBeUndefined();
  });

  it('asks for new rankings where a version asks other counts of them', async () => {
    const { parameters } = NEWEST_VERSION;
    const next = {
      label: '4.0',
      summary: 'Two runs are enough.',
      parameters: { ...parameters, ranking: { ...parameters.ranking, runs: 2 } },
    };
    await runJobsNow(registry);
    const { id } = await activeProtocol(registry);
    await publishProtocol(registry, steward, { label: '4.0', seenVersionId: id, isConfirmed: true }, next);
    expect(
      await prisma.job.findMany({
        where: { state: 'queued', kind: { not: 'judgeAgain' } },
        select: { kind: true, key: true },
      }),
    ).toEqual([{ kind: 'refit', key: 'record/mph-70' }]);
    expect((await activeProtocol(registry)).parameters.ranking.runs).toBe(2);
  });
});

describe('what another release wrote', () => {
  it('shows a finding of a rule that this release does not have, on every page', async () => {
    const run = await submitted(registry, tester, gusty('15'));
    const revision = await prisma.runRevision.findFirstOrThrow({ where: { runId: run.runId } });
    await prisma.finding.create({
      data: {
        revisionId: revision.id,
        protocolVersionId: revision.protocolVersionId,
        ruleId: 'salt-on-road',
        outcome: 'fail',
        numbers: [],
        sentence: 'There was salt on the road.',
      },
    });
    const view = await readRun(registry, tester, run.runNumber);
    expect(view?.findings.notable[0]).toMatchObject({ title: 'Salt on road', isKnown: false });
    await claimRun(registry, reviewer, { runId: run.runId });
    const review = await readReview(registry, reviewer, run.runNumber);
    expect(review.isApprovable).toBe(false);
    expect(review.reasons.mustCite).toEqual([
      {
        ruleId: 'salt-on-road',
        title: 'Salt on road',
        template: 'Salt on road: There was salt on the road.',
      },
    ]);
    const queue = await readQueue(registry, reviewer, {});
    expect(queue.rows.find(({ number }) => number === run.runNumber)?.fails).toBe(1);
    const decision = { runId: run.runId, revisionNumber: 1 };
    await expect(decideReview(registry, reviewer, { ...decision, kind: 'approve' })).rejects.toMatchObject({
      issues: [{ what: 'The run fails a rule: “Salt on road”.' }],
    });
    await decideReview(registry, reviewer, {
      ...decision,
      kind: 'reject',
      reasons: [{ ruleId: 'salt-on-road', text: 'Repeat on a clean road.' }],
    });
  });

  it('lists a version whose limits cannot be read, without a rule', async () => {
    await prisma.protocolVersion.create({
      data: {
        label: '0.9',
        summary: 'Of a trial.',
        parameters: { wind: 'calm' },
        status: 'retired',
        createdAt: new Date('2026-09-01T08:00:00Z'),
        adoptedAt: new Date('2026-09-01T08:00:00Z'),
        retiredAt: new Date('2026-10-01T08:00:00Z'),
      },
    });
    const view = await readProtocolPage(registry, '0.9');
    expect(view).toMatchObject({ label: '0.9', since: undefined, groups: [], further: [] });
    expect(view?.versions.map(({ label, since }) => [label, since?.label])).toEqual([
      ['4.0', '3.3'],
      ['3.3', '1.0'],
      ['1.0', undefined],
      ['0.9', undefined],
    ]);
  });
});

describe('a run sent in while another version comes into force', () => {
  it('judges again what was judged while another version came into force', async () => {
    const { id } = await activeProtocol(registry);
    const publishing = new pg.Client(connection);
    await publishing.connect();
    try {
      await publishing.query('BEGIN');
      await publishing.query(`UPDATE "ProtocolVersion" SET "status" = 'retired' WHERE "id" = $1`, [id]);
      await publishing.query(
        `INSERT INTO "ProtocolVersion" ("id", "label", "status", "parameters", "summary", "adoptedAt")
         SELECT gen_random_uuid(), '3.3.1', 'active', "parameters", 'The same once more.', now()
         FROM "ProtocolVersion" WHERE "id" = $1`,
        [id],
      );
      const sending = submitted(registry, tester, gusty('14'));
      await waitForLock();
      await publishing.query('COMMIT');
      const view = await readRun(registry, tester, (await sending).runNumber);
      expect(view?.findings.protocolLabel).toBe('3.3.1');
      expect(view?.revisions).toHaveLength(1);
    } finally {
      await publishing.end();
    }
  });

  it('waits with another version for the runs that are being sent in', async () => {
    const { id } = await activeProtocol(registry);
    const next = { label: '3.4', summary: 'And once more.', parameters: NEWEST_VERSION.parameters };
    let publishing: Promise<unknown> = Promise.resolve();
    await prisma.$transaction(async (tx) => {
      expect(await holdActiveProtocol(tx)).toBe(id);
      const word = { label: '3.4', seenVersionId: id, isConfirmed: true };
      publishing = publishProtocol(registry, steward, word, next);
      await waitForLock();
      // What is stored in this transaction is of the version in force: no other has come into force yet.
      expect((await activeProtocol(registry)).id).toBe(id);
    });
    await publishing;
    expect((await activeProtocol(registry)).label).toBe('3.4');
  });
});

describe('a fresh registry', () => {
  it('starts with the newest version, and has nothing to publish', async () => {
    const other = await freshDatabase();
    const fresh = await registryOn(other.prisma);
    expect(await activeProtocol(fresh.registry)).toMatchObject({
      label: NEWEST_VERSION.label,
      parameters: NEWEST_VERSION.parameters,
    });
    const first = await person(fresh.registry, 'Ines Rook', 'steward');
    expect((await readProtocolOffer(fresh.registry, first)).offered).toBeUndefined();
    expect((await readProtocolPage(fresh.registry))?.versions).toHaveLength(1);
    fresh.remove();
  });
});
