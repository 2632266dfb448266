import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { claimRun, releaseRun } from '@/lib/registry/review/claimRun';
import { retypeReadings } from '@/lib/registry/review/retypeReadings';
import { readReview } from '@/lib/registry/review/review';
import { Conflict, InvalidInput, NotAllowed } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
import { freshDatabase } from '../../helpers/database';
import {
  approve,
  loopOf,
  person,
  registryOn,
  type SubmittedRunRef,
  submitted,
  vehicleOf,
} from '../../helpers/smallRegistry';

const { prisma } = await freshDatabase();
const { registry, remove } = await registryOn(prisma);
afterAll(remove);

let tester: Actor;
let ada: Actor;
let pelle: Actor;
let run: SubmittedRunRef;

beforeAll(async () => {
  tester = await person(registry, 'Mira Holm');
  ada = await person(registry, 'Ada Quill', 'reviewer');
  pelle = await person(registry, 'Pelle Strand', 'reviewer');
  const { carId, baselineId } = await vehicleOf(registry, tester);
  const loopId = await loopOf(registry, tester);
  run = await submitted(registry, tester, { carId, setupId: baselineId, loopId, tripEnergy: '32.9' });
}, 120_000);

const retype = (actor: Actor, texts: Record<string, string>, showRest = false) =>
  retypeReadings(registry, actor, { runId: run.runId, revisionNumber: 1, texts, showRest });
const review = (actor: Actor) => readReview(registry, actor, run.runNumber);
const seenOf = async (actor: Actor, quantity: string) =>
  (await review(actor)).blind.readings.find((reading) => reading.quantity === quantity)?.seen;

describe('what is on the photos', () => {
  it('is not told to a reviewer who has not read it there', async () => {
    await expect(retype(ada, { tripEnergy: '32.9' })).rejects.toThrow('Claim the run');
    await expect(retype(tester, { tripEnergy: '32.9' })).rejects.toThrow(NotAllowed);
    await claimRun(registry, ada, { runId: run.runId });
    const view = await review(ada);
    expect(view.blind.hidden).toContain('tripEnergy');
    expect(await seenOf(ada, 'tripEnergy')).toBeNull();
    expect(view.run.readings.map(({ quantity }) => quantity)).not.toContain('tripEnergy');
    expect(view.run.readings.map(({ quantity }) => quantity)).toContain('loadMass');
  });

  it('is compared as typed first, and refused beside its field where it is no number', async () => {
    await expect(retype(ada, {})).rejects.toThrow(InvalidInput);
    await expect(retype(ada, { tripEnergy: 'thirty' })).rejects.toMatchObject({
      issues: [{ path: 'tripEnergy' }],
    });
    await retype(ada, { tripEnergy: '39.2' });
    expect(await seenOf(ada, 'tripEnergy')).toEqual({ typed: '32.9', yours: '39.2', agrees: false });
    await retype(ada, { tripEnergy: '32.9' }, true);
    expect(await seenOf(ada, 'tripEnergy')).toMatchObject({ yours: '39.2', agrees: false });
    expect(await seenOf(ada, 'tripDistance')).toMatchObject({ yours: null, agrees: null });
    expect((await review(ada)).blind.hidden.size).toBe(0);
    const acts = await prisma.auditEntry.findMany({
      where: { action: 'review.retype' },
      orderBy: { id: 'asc' },
    });
    expect(acts[0]?.details).toMatchObject({ typed: 1, differ: ['tripEnergy'] });
  });

  it('is read by the next reviewer as if nobody had', async () => {
    await releaseRun(registry, ada, { runId: run.runId });
    await claimRun(registry, pelle, { runId: run.runId });
    const before = await review(pelle);
    expect(before.blind.hidden).toContain('tripEnergy');
    expect(before.blind.others).toEqual([]);
    await retype(pelle, { tripEnergy: '32.9' }, true);
    expect((await review(pelle)).blind.others).toMatchObject([
      { by: { displayName: 'Ada Quill' }, typed: 1, differ: [{ text: '39.2', testers: '32.9' }] },
    ]);
  });

  it('is typed no more once the run is decided', async () => {
    await approve(registry, pelle, run);
    await expect(retype(pelle, { tripEnergy: '32.9' })).rejects.toThrow(Conflict);
  });
});

describe('who sent a run', () => {
  it('is told by what ties their runs to others, to reviewers alone', async () => {
    const ties = (await review(ada)).ties;
    expect(ties).toMatchObject({ name: 'Mira Holm', accountDays: 0 });
    expect(ties?.ties.map(({ kind, name, weight }) => [kind, name, weight])).toEqual(
      expect.arrayContaining([
        ['loop', 'North causeway', 1],
        ['reviewer', 'Pelle Strand', 1],
      ]),
    );
    await expect(readReview(registry, tester, run.runNumber)).rejects.toThrow(NotAllowed);
  });

  it('shows a picture that another tester had on a run', async () => {
    const other = await person(registry, 'Jonas Reet');
    const { carId, baselineId } = await vehicleOf(registry, other, 'Holmen');
    const loopId = await loopOf(registry, other, 'South causeway');
    const copy = await submitted(registry, other, { carId, setupId: baselineId, loopId });
    const [own] = await prisma.evidenceFile.findMany({ where: { runId: run.runId }, take: 1 });
    await prisma.evidenceFile.updateMany({
      where: { runId: copy.runId },
      data: { sha256: own?.sha256 ?? '', sourceSha256: own?.sourceSha256 ?? '' },
    });
    const tie = (await readReview(registry, ada, copy.runNumber)).ties?.ties[0];
    expect(tie).toMatchObject({ kind: 'pictures', name: 'Mira Holm', isNotable: true });
    expect(tie?.words).toContain(`run ${run.runNumber}`);
  });
});
