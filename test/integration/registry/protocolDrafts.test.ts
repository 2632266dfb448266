import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { limitForm } from '@/lib/protocol/draft/limitForm';
import { readStoredParameters } from '@/lib/protocol/stored';
import { NEWEST_VERSION } from '@/lib/protocol/versions/newestVersion';
import { activeProtocol } from '@/lib/registry/protocol/activeProtocol';
import { publishDraft, takeBackAnnouncement } from '@/lib/registry/protocol/drafts/activateDraft';
import { readDraft, readDraftPart, readDrafts } from '@/lib/registry/protocol/drafts/draft';
import { dryRunDraft, requestDryRun } from '@/lib/registry/protocol/drafts/dryRun';
import { readDryRunOutcome, readTurnedRuns } from '@/lib/registry/protocol/drafts/dryRunOutcome';
import {
  describeDraft,
  discardDraft,
  saveDraftLimits,
  startDraft,
} from '@/lib/registry/protocol/drafts/editDraft';
import { readProtocolPage } from '@/lib/registry/protocol/protocolPage';
import { publishProtocol } from '@/lib/registry/protocol/publishProtocol';
import { runJobsNow } from '@/lib/registry/runJobs';
import { readRun } from '@/lib/registry/runs/run';
import { Conflict, InvalidInput, NotAllowed, NotFound } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
import { freshDatabase } from '@/test/helpers/database';
import {
  approved,
  loopOf,
  person,
  registryOn,
  type SubmittedRunRef,
  submitted,
  vehicleOf,
} from '@/test/helpers/smallRegistry';

const { prisma } = await freshDatabase();
const { registry, clock, remove } = await registryOn(prisma);
afterAll(remove);

let steward: Actor;
let tester: Actor;
let reviewer: Actor;
let calm: SubmittedRunRef;
let gusty: SubmittedRunRef;
let subjects: { carId: string; setupId: string; loopId: string };
let draftId: string;

const on = (day: string, form: Record<string, string> = {}) => ({
  ...subjects,
  startedAtLocal: `2026-05-${day}T09:30`,
  ...form,
});
const auditOf = (action: string) => prisma.auditEntry.findMany({ where: { action }, orderBy: { id: 'asc' } });
const view = () => readDraft(registry, steward, draftId);
const ref = async () => ({ draftId, revision: (await view()).revision });

/** The form of a part of the draft as it would be posted, with changes. */
async function save(slug: string, changes: Record<string, string>, revision?: number) {
  const { form, draft } = await readDraftPart(registry, steward, { draftId, slug });
  const texts = new Map([
    ...form.rules.flatMap(({ name, isIn, isAlwaysIn }) =>
      isIn && !isAlwaysIn ? [[name, 'yes'] as const] : [],
    ),
    ...[...form.rules.flatMap(({ entries }) => entries), ...form.entries].flatMap((entry) => [
      [entry.name, entry.text] as const,
      [entry.afterwardsName, entry.afterwards] as const,
    ]),
    ...Object.entries(changes),
  ]);
  return saveDraftLimits(registry, steward, {
    draftId,
    revision: revision ?? draft.revision,
    part: slug,
    texts,
  });
}

beforeAll(async () => {
  steward = await person(registry, 'Ines Rook', 'steward');
  tester = await person(registry, 'Mira Holm');
  reviewer = await person(registry, 'Ada Quill', 'reviewer');
  const vehicle = await vehicleOf(registry, tester);
  subjects = { carId: vehicle.carId, setupId: vehicle.baselineId, loopId: await loopOf(registry, tester) };
  calm = await approved(registry, tester, reviewer, on('11', { windSpeed: '2' }));
  gusty = await approved(registry, tester, reviewer, on('12', { windSpeed: '3.6' }));
  await runJobsNow(registry);
});

describe('a draft', () => {
  it('is a steward’s of the registry, and begins with what is in force', async () => {
    const words = { label: '4.0', summary: 'Calmer air is asked for.' };
    for (const who of [undefined, tester, reviewer, { ...steward, world: 'demo' as const }])
      await expect(startDraft(registry, who, words)).rejects.toThrow(NotAllowed);
    ({ draftId } = await startDraft(registry, steward, words));
    const { parameters } = await prisma.protocolDraft.findUniqueOrThrow({ where: { id: draftId } });
    expect(parameters).toEqual(NEWEST_VERSION.parameters);
    expect(await view()).toMatchObject({
      label: '4.0',
      state: 'draft',
      basedOn: NEWEST_VERSION.label,
      differences: { added: [], dropped: [], changes: [] },
      dryRun: undefined,
      mayEdit: true,
    });
    expect(await readDrafts(registry, steward)).toHaveLength(1);
    expect(await auditOf('protocol.draft')).toMatchObject([
      { subjectId: draftId, details: { label: '4.0', from: NEWEST_VERSION.label } },
    ]);
    await expect(readDraft(registry, reviewer, draftId)).rejects.toThrow(NotAllowed);
    await expect(readDraft(registry, steward, '018f0000-0000-7000-8000-000000000001')).rejects.toThrow(
      NotFound,
    );
    expect(await readDraft(registry, { ...steward, world: 'demo' }, draftId)).toMatchObject({
      mayEdit: false,
    });
  });

  it('has a label of its own', async () => {
    for (const label of ['4.0', NEWEST_VERSION.label, 'two words', '']) {
      await expect(
        startDraft(registry, steward, { label, summary: 'Something else.' }),
      ).rejects.toMatchObject({ issues: [{ path: 'label' }] });
    }
    await describeDraft(registry, steward, { ...(await ref()), label: '4.1', summary: 'Calm air only.' });
    expect(await view()).toMatchObject({ label: '4.1', summary: 'Calm air only.', revision: 2 });
  });

  it('is saved part by part, by who saw it last', async () => {
    await expect(save('conditions', { 'limit.wind.passUpToMps': '9' })).rejects.toMatchObject({
      issues: [{ path: 'limit.wind.cautionUpToMps' }],
    });
    expect(await save('conditions', { 'limit.wind.passUpToMps': '3' })).toEqual({ revision: 3 });
    await expect(save('conditions', { 'limit.wind.passUpToMps': '4' }, 2)).rejects.toThrow(Conflict);
    await expect(save('nothing', {})).rejects.toThrow(NotFound);
    const { differences } = await view();
    expect(differences.changes.map(({ path }) => path)).toContain('wind.passUpToMps');
    expect((await auditOf('protocol.edit')).map(({ details }) => details)).toEqual([
      { label: '4.1', before: '4.0' },
      { label: '4.1', part: 'conditions' },
    ]);
  });
});

describe('a dry run', () => {
  it('says of each approved run what the draft would, and changes nothing', async () => {
    const kept = () =>
      Promise.all([
        prisma.finding.findMany({ orderBy: [{ revisionId: 'asc' }, { ruleId: 'asc' }] }),
        prisma.countedRun.findMany({ orderBy: { runId: 'asc' } }),
        prisma.judgement.findMany({ orderBy: { revisionId: 'asc' } }),
      ]);
    const before = await kept();
    await requestDryRun(registry, steward, await ref());
    expect(await view()).toMatchObject({
      progress: { state: 'waiting' },
      dryRun: { isOfDraft: true, finishedAt: undefined },
    });
    expect(await readDryRunOutcome(registry, steward, { draftId, world: undefined })).toBeUndefined();
    await expect(requestDryRun(registry, steward, await ref())).rejects.toThrow(Conflict);
    await runJobsNow(registry);
    expect(await kept()).toEqual(before);
    expect(await view()).toMatchObject({
      progress: null,
      dryRun: { isOfDraft: true, isAgainstInForce: true, against: NEWEST_VERSION.label },
    });
    const outcome = await readDryRunOutcome(registry, steward, { draftId, world: undefined });
    expect(outcome).toMatchObject({ worlds: ['record'], sums: { world: 'record', runs: 2, notJudged: 0 } });
    expect(outcome?.rules).toContainEqual({
      ruleId: 'wind',
      title: expect.any(String),
      turns: [{ ruleId: 'wind', before: 'pass', after: 'caution', runs: 1 }],
    });
    const page = await readTurnedRuns(registry, steward, { draftId, world: 'record', rule: 'wind' });
    expect(page.rows).toMatchObject([
      { number: gusty.runNumber, changes: [{ ruleId: 'wind', before: 'pass', after: 'caution' }] },
    ]);
    expect(page.rows[0]?.changes[0]?.sentence).toContain('3.6');
  });

  it('counts in whole runs, by class and setup, what turns', async () => {
    // the loop’s ends are 20 m apart
    await save('loop', {
      'limit.loopClosure.distancePassUpToM': '1',
      'limit.loopClosure.distanceCautionUpToM': '2',
    });
    expect(await view()).toMatchObject({ dryRun: { isOfDraft: false } });
    await requestDryRun(registry, steward, await ref());
    const progress: [number, number][] = [];
    await dryRunDraft(registry, draftId, (done, of) => progress.push([done, of]));
    expect(progress).toEqual([[2, 2]]);
    const outcome = await readDryRunOutcome(registry, steward, { draftId, world: 'record' });
    expect(outcome?.sums.turned).toEqual({ fail: 2, caution: 0, pass: 0 });
    expect(outcome?.classes).toMatchObject([{ fail: 2, caution: 0, pass: 0 }]);
    expect(outcome?.setups).toMatchObject([{ id: subjects.setupId, fail: 2 }]);
    const of = { draftId, world: 'record' as const };
    const numbers = async (query: object) =>
      (await readTurnedRuns(registry, steward, { ...of, ...query })).rows.map(({ number }) => number);
    expect(await numbers({})).toEqual([calm.runNumber, gusty.runNumber]);
    expect(await numbers({ to: 'fail', setupId: subjects.setupId })).toHaveLength(2);
    expect(await numbers({ to: 'pass' })).toEqual([]);
    expect(await numbers({ rule: 'wind', to: 'caution' })).toEqual([gusty.runNumber]);
    expect(await numbers({ to: '__proto__', classKey: 'none' })).toEqual([]);
    // done already: the queue’s own attempt finds nothing to do
    await runJobsNow(registry);
    expect((await readDryRunOutcome(registry, steward, of))?.sums.runs).toBe(2);
  });

  it('tells runs of which what they were made from cannot be read', async () => {
    // What a revision was made from is never changed by the app: as its owner, and taken back in the end.
    const write = (snapshot: string) =>
      prisma.$transaction([
        prisma.$executeRaw`ALTER TABLE "RevisionInputs" DISABLE TRIGGER USER`,
        prisma.$executeRaw`UPDATE "RevisionInputs" SET "snapshot" = ${snapshot}::jsonb WHERE "revisionId" IN (
          SELECT "id" FROM "RunRevision" WHERE "runId" = ${calm.runId}::uuid)`,
        prisma.$executeRaw`ALTER TABLE "RevisionInputs" ENABLE TRIGGER USER`,
      ]);
    const { snapshot } = await prisma.revisionInputs.findFirstOrThrow({
      where: { revision: { runId: calm.runId } },
    });
    await write('{}');
    await requestDryRun(registry, steward, await ref());
    await runJobsNow(registry);
    await write(JSON.stringify(snapshot));
    const outcome = await readDryRunOutcome(registry, steward, { draftId, world: undefined });
    expect(outcome?.sums).toMatchObject({ runs: 2, notJudged: 1, turned: { fail: 1 } });
  });
});

describe('putting a draft in force', () => {
  const asked = async (day: string) => ({
    ...(await ref()),
    seenVersionId: (await activeProtocol(registry)).id,
    day,
    isConfirmed: true,
  });

  it('asks for a fresh proof, the steward’s word, the draft as they saw it and a day to come', async () => {
    const stale = { ...steward, provedAt: new Date(registry.now().getTime() - 3_600_000) };
    await expect(publishDraft(registry, stale, await asked(''))).rejects.toThrow(NotAllowed);
    await expect(publishDraft(registry, tester, await asked(''))).rejects.toThrow(NotAllowed);
    const today = registry.now().toISOString().slice(0, 10);
    for (const day of [today, '2020-01-01', '2999-01-01', 'soon', '2026-02-30'])
      await expect(publishDraft(registry, steward, await asked(day))).rejects.toMatchObject({
        issues: [{ path: 'day' }],
      });
    await expect(
      publishDraft(registry, steward, { ...(await asked('')), isConfirmed: false }),
    ).rejects.toThrow(InvalidInput);
    await expect(publishDraft(registry, steward, { ...(await asked('')), revision: 1 })).rejects.toThrow(
      Conflict,
    );
  });

  it('on a day is announced, held still, and taken back before it', async () => {
    clock.now = new Date('2026-11-02T09:00:00Z');
    const fresh = { ...steward, provedAt: clock.now };
    await publishDraft(registry, fresh, await asked('2026-11-05'));
    expect(await readProtocolPage(registry)).toMatchObject({
      label: NEWEST_VERSION.label,
      announced: { label: '4.1', from: '2026-11-05' },
    });
    expect((await readProtocolPage(registry))?.announced?.differences?.changes.length).toBeGreaterThan(0);
    await expect(save('conditions', { 'limit.wind.passUpToMps': '4' })).rejects.toThrow('is announced');
    await expect(discardDraft(registry, fresh, await ref())).rejects.toThrow('is announced');
    const other = await startDraft(registry, fresh, { label: '5.0', summary: 'Another of them.' });
    await expect(
      publishDraft(registry, fresh, { ...(await asked('')), draftId: other.draftId, revision: 1 }),
    ).rejects.toThrow('Version 4.1 is announced.');
    const shipped = { label: '6.0', summary: 'Shipped.', parameters: NEWEST_VERSION.parameters };
    const { id } = await activeProtocol(registry);
    await expect(
      publishProtocol(registry, fresh, { label: '6.0', seenVersionId: id, isConfirmed: true }, shipped),
    ).rejects.toThrow('Version 4.1 is announced.');
    clock.now = new Date('2026-11-04T23:59:59Z');
    await runJobsNow(registry);
    expect((await activeProtocol(registry)).label).toBe(NEWEST_VERSION.label);
    const later = { ...steward, provedAt: clock.now };
    await takeBackAnnouncement(registry, later, { draftId });
    await expect(takeBackAnnouncement(registry, later, { draftId })).rejects.toThrow(Conflict);
    clock.now = new Date('2026-11-05T00:00:01Z');
    await runJobsNow(registry);
    expect((await activeProtocol(registry)).label).toBe(NEWEST_VERSION.label);
    expect((await readProtocolPage(registry))?.announced).toBeUndefined();
    await discardDraft(registry, later, { draftId: other.draftId, revision: 1 });
    expect(await prisma.protocolDraft.count()).toBe(1);
  });

  it('happens by itself as the day begins, once; runs keep the version that judged them', async () => {
    const fresh = { ...steward, provedAt: clock.now };
    await publishDraft(registry, fresh, await asked('2026-11-06'));
    clock.now = new Date('2026-11-06T00:00:00Z');
    const findings = () => prisma.finding.findMany({ orderBy: [{ revisionId: 'asc' }, { ruleId: 'asc' }] });
    const before = await findings();
    await runJobsNow(registry);
    const active = await activeProtocol(registry);
    expect(active.label).toBe('4.1');
    expect(active.parameters.wind?.passUpToMps).toBe(3);
    expect(await findings()).toEqual(before);
    expect(await view()).toMatchObject({ state: 'published' });
    expect(await auditOf('protocol.publish')).toMatchObject([
      { actorId: steward.accountId, details: { label: '4.1', inPlaceOf: NEWEST_VERSION.label } },
    ]);
    expect((await auditOf('protocol.takeBack')).length).toBe(1);
    expect((await readRun(registry, undefined, calm.runNumber))?.findings.protocolLabel).toBe(
      NEWEST_VERSION.label,
    );
    const next = await submitted(registry, tester, on('13', { windSpeed: '3.6' }));
    expect((await readRun(registry, tester, next.runNumber))?.findings.protocolLabel).toBe('4.1');
    await expect(save('conditions', {})).rejects.toThrow('came into force');
  });

  it('at once takes the place of the version that the steward saw; rules can be left out', async () => {
    ({ draftId } = await startDraft(registry, steward, { label: '4.2', summary: 'Without that one rule.' }));
    const { form } = await readDraftPart(registry, steward, { draftId, slug: 'record' });
    expect(form).toEqual(limitForm((await activeProtocol(registry)).parameters, 'Record'));
    await save('record', { 'rule.copied-readings': '' });
    const fresh = { ...steward, provedAt: clock.now };
    const words = await asked('');
    const both = await Promise.allSettled([
      publishDraft(registry, fresh, words),
      publishDraft(registry, fresh, words),
    ]);
    expect(both.map(({ status }) => status).sort()).toEqual(['fulfilled', 'rejected']);
    const active = await activeProtocol(registry);
    expect(active.label).toBe('4.2');
    expect(readStoredParameters(active.parameters).copies).toBeUndefined();
    const page = await readProtocolPage(registry);
    expect(page?.versions[0]?.since?.differences.dropped.map(({ id }) => id)).toEqual(['copied-readings']);
  });
});
