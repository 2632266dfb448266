import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { vouchFor } from '@/lib/registry/accounts/vouch';
import { addCar } from '@/lib/registry/cars/addCar';
import { readRankings } from '@/lib/registry/rankings/rankings';
import { liftHold } from '@/lib/registry/review/holdRun';
import { runJobsNow } from '@/lib/registry/runJobs';
import { addEvidence } from '@/lib/registry/runs/addEvidence';
import { startDraft } from '@/lib/registry/runs/startDraft';
import { submitRun } from '@/lib/registry/runs/submitRun';
import { addFactorLevel } from '@/lib/registry/setups/addFactorLevel';
import { addSetup } from '@/lib/registry/setups/addSetup';
import { readSetup } from '@/lib/registry/setups/setup';
import type { Actor } from '@/lib/run/roles';
import { freshDatabase } from '@/test/helpers/database';
import { completeForm } from '@/test/helpers/runForms';
import {
  approve,
  approved,
  loopOf,
  person,
  registryOn,
  type Vehicle,
  vehicleOf,
} from '@/test/helpers/smallRegistry';
import { dashboardPhoto } from '@/test/lib/files/dashboards';
import { STORED_VERSION_ONE } from '@/test/lib/protocol/versionsUnderTest';

const { prisma } = await freshDatabase();
const { registry, clock, remove } = await registryOn(prisma);
afterAll(remove);

/** Their runs are approved whatever is found: the version before any rule on photos is in force. */
async function putVersionOneInForce() {
  await prisma.protocolVersion.updateMany({ where: { status: 'active' }, data: { status: 'retired' } });
  await prisma.protocolVersion.create({
    data: {
      label: STORED_VERSION_ONE.label,
      summary: STORED_VERSION_ONE.summary,
      parameters: JSON.parse(JSON.stringify(STORED_VERSION_ONE.parameters)),
      status: 'active',
      adoptedAt: clock.now,
    },
  });
}

let vehicle: Vehicle;
let loopId: string;
let invented: string;
let steward: Actor;
let accomplice: Actor;
let photos: Uint8Array[];
const thieves: Actor[] = [];
const sentIds: string[] = [];

const carOf = (owner: Actor, name: string) =>
  addCar(registry, owner, {
    modelId: vehicle.modelId,
    name,
    placardFrontPa: 290_000,
    placardRearPa: 290_000,
  });

const energies = (kWh: number) => ({
  tripEnergy: kWh.toFixed(1),
  tripEfficiency: (66.8 / Number(kWh.toFixed(1))).toFixed(2),
  outboundEnergy: (kWh / 2).toFixed(1),
  chargeEnd: (80 - kWh / 1.15).toFixed(0),
});

/** Places and words of every setup as anybody reads them. */
async function published() {
  const view = await readRankings(registry, { classKey: 'mph-70', world: 'record' });
  return (view?.ranked ?? []).map((row) => [
    row.title,
    row.rankLower,
    row.rankUpper,
    row.against?.word ?? null,
  ]);
}

async function fitted() {
  clock.now = new Date(clock.now.getTime() + 60_000);
  await runJobsNow(registry);
}

beforeAll(async () => {
  await putVersionOneInForce();
  steward = await person(registry, 'Noor Vale', 'steward');
  accomplice = await person(registry, 'Eve Marsh', 'reviewer');
  const reviewers = [
    await person(registry, 'Ada Quill', 'reviewer'),
    await person(registry, 'Ben Loft', 'reviewer'),
  ];
  const testers = [];
  for (const name of ['Mira Holm', 'Tove Rask', 'Ivo Stern']) testers.push(await person(registry, name));
  loopId = await loopOf(registry, steward);
  vehicle = await vehicleOf(registry, testers[0] as Actor);
  photos = await Promise.all([dashboardPhoto(1, 1), dashboardPhoto(1, 2)]);
  for (const [at, tester] of testers.entries()) {
    const { carId } = at === 0 ? vehicle : await carOf(tester, `Car ${at}`);
    for (const day of [1, 2]) {
      for (const [hour, setupId] of [vehicle.baselineId, vehicle.lowId].entries()) {
        const kWh = 33 + 0.2 * at + 0.1 * day - 1.9 * hour;
        const form = {
          carId,
          setupId,
          loopId,
          startedAtLocal: `2026-05-1${3 * at + day}${hour === 0 ? 'T09:00' : 'T12:00'}`,
        };
        await approved(registry, tester, reviewers[day - 1] as Actor, { ...form, ...energies(kWh) });
      }
    }
  }
  // a public run with the two photos that are to be stolen
  const first = await draftOf(testers[0] as Actor, vehicle.carId, vehicle.baselineId, 33, 'T15:00');
  await decide(first, reviewers[0] as Actor);
  await prisma.account.updateMany({ data: { vouchedAt: clock.now } });
  const covers = { modelId: vehicle.modelId, factor: 'openingsCovers' };
  // a factor's first level is the one as delivered
  await addFactorLevel(registry, testers[0] as Actor, { ...covers, label: 'as sold' });
  const { levelId } = await addFactorLevel(registry, testers[0] as Actor, { ...covers, label: 'sealed' });
  ({ setupId: invented } = await addSetup(registry, testers[0] as Actor, {
    modelId: vehicle.modelId,
    levelIds: [levelId],
  }));
  await fitted();
}, 240_000);

async function draftOf(
  actor: Actor,
  carId: string,
  setupId: string,
  kWh: number,
  time: string,
  own = photos,
) {
  const startedAtLocal = `2026-06-${String(1 + (sentIds.length % 3)).padStart(2, '0')}${time}`;
  const form = completeForm({ carId, setupId, loopId, startedAtLocal, ...energies(kWh) });
  const draft = await startDraft(registry, actor, { creationKey: crypto.randomUUID(), form });
  for (const [place, kind] of ['startDisplay', 'finishDisplay'].entries()) {
    clock.now = new Date(clock.now.getTime() + 1000);
    await addEvidence(registry, actor, { runId: draft.runId, kind, bytes: own[place] ?? new Uint8Array() });
  }
  await submitRun(registry, actor, { runId: draft.runId, draftVersion: draft.draftVersion });
  return draft.runId;
}

/** By a reviewer, and by another where one is not enough. */
const decide = (runId: string, reviewer: Actor) => approve(registry, reviewer, { runId, revisionNumber: 1 });

describe('eighteen invented runs by six new accounts, all with two photos of another tester’s public run', () => {
  it('change no published rank, though reviewers approve each', async () => {
    const before = await published();
    expect(before).toEqual([
      ['Ride height: low', 1, 1, 'settled'],
      ['As delivered', 2, 2, null],
    ]);
    for (let who = 0; who < 6; who++) {
      const thief = await person(registry, `Puppet ${'ABCDEF'[who]}`);
      await prisma.account.update({ where: { id: thief.accountId }, data: { emailVerifiedAt: null } });
      thieves.push(thief);
      const { carId } = await carOf(thief, 'Mine');
      for (let run = 0; run < 3; run++)
        sentIds.push(await draftOf(thief, carId, invented, 22 + 0.1 * who, `T0${6 + run}:${10 + who}`));
    }
    for (const runId of sentIds) await decide(runId, accomplice);
    expect(await prisma.run.count({ where: { id: { in: sentIds }, status: 'approved' } })).toBe(18);
    await fitted();
    expect(await published()).toEqual(before);
    expect(await prisma.countedRun.count({ where: { runId: { in: sentIds } } })).toBe(0);
    expect(await prisma.hold.count({ where: { runId: { in: sentIds }, liftedAt: null } })).toBe(18);
  }, 240_000);

  it('have no place and earn no sure word even where a steward lets them count', async () => {
    for (const runId of sentIds)
      await liftHold(registry, steward, { runId, reason: 'Let through without a look.' });
    await fitted();
    expect(await prisma.countedRun.count({ where: { runId: { in: sentIds } } })).toBe(18);
    expect((await published()).map(([title]) => title)).toEqual(['Ride height: low', 'As delivered']);
    const view = await readRankings(registry, { classKey: 'mph-70', world: 'record' });
    const row = view?.notRanked.find(({ setupId }) => setupId === invented);
    expect(row?.missing).toContainEqual({ what: 'vouched', have: 0, need: 1 });

    // one of the six is vouched for: it is listed, without a place, as the six and their victim count as one
    await vouchFor(registry, steward, { accountId: thieves[0]?.accountId ?? '' });
    await fitted();
    const after = await readRankings(registry, { classKey: 'mph-70', world: 'record' });
    const listed = after?.ranked.find(({ setupId }) => setupId === invented);
    expect(listed).toMatchObject({ rankLower: null, rankUpper: null });
    expect(listed?.held.restsOn).toHaveLength(7);
    expect(listed?.against?.word).not.toBe('settled');
    expect(after?.placeless).toContain('by another tester would change that');
    const page = await readSetup(registry, listed?.slug ?? '');
    expect(page?.estimates[0]).toMatchObject({
      rankLower: null,
      held: listed?.held,
      rankedOf: after?.rankedOf,
    });
  }, 240_000);
});
