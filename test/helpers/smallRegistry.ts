import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { folderBlobStore } from '@/lib/files/folderBlobStore';
import { currentActor, type SignedIn, type Token } from '@/lib/registry/accounts/currentActor';
import { beginSignIn, keyOfSignIn } from '@/lib/registry/accounts/signIns';
import { signUp } from '@/lib/registry/accounts/signUp';
import { addCar } from '@/lib/registry/cars/addCar';
import { addLoop } from '@/lib/registry/loops/addLoop';
import { addModel } from '@/lib/registry/models/addModel';
import { ensureReferenceData } from '@/lib/registry/protocol/activeProtocol';
import type { Registry } from '@/lib/registry/registry';
import { claimRun } from '@/lib/registry/review/claimRun';
import { decideReview } from '@/lib/registry/review/decideReview';
import { addEvidence } from '@/lib/registry/runs/addEvidence';
import { startDraft } from '@/lib/registry/runs/startDraft';
import { submitRun } from '@/lib/registry/runs/submitRun';
import { addFactorLevel } from '@/lib/registry/setups/addFactorLevel';
import { addSetup } from '@/lib/registry/setups/addSetup';
import type { Actor } from '@/lib/run/roles';
import type { RunForm } from '@/lib/run/runForm';
import type { Database } from '@/lib/store/database';
import { completeForm } from './runForms';

export const STRONG_PASSWORD = 'quiet lantern over seven bridges';

/** A registry on the given database with a clock that stands still until it is moved. */
export async function registryOn(db: Database): Promise<{
  registry: Registry;
  clock: { now: Date };
  remove: () => void;
}> {
  const folder = mkdtempSync(join(tmpdir(), 'evenloop-blobs-'));
  const clock = { now: new Date('2026-11-01T12:00:00Z') };
  const registry: Registry = { db, blobs: folderBlobStore(folder), now: () => clock.now, world: 'record' };
  await ensureReferenceData(registry);
  return { registry, clock, remove: () => rmSync(folder, { recursive: true, force: true }) };
}

/** An account of the role; roles above tester are set in the database, as a steward would. */
export async function person(
  registry: Registry,
  name: string,
  role: Actor['role'] = 'tester',
): Promise<Actor> {
  const { accountId } = await signUp(registry, {
    email: `${name.toLowerCase().replace(/\W/g, '.')}@people.example`,
    displayName: name,
    password: STRONG_PASSWORD,
  });
  if (role !== 'tester') await registry.db.account.update({ where: { id: accountId }, data: { role } });
  return { accountId, role };
}

/** What a request of the account carries after a new sign-in. */
export async function tokenOf(registry: Registry, accountId: string): Promise<Token> {
  const { sessionEpoch } = await registry.db.account.findUniqueOrThrow({ where: { id: accountId } });
  const id = await beginSignIn(registry, { accountId, userAgent: null });
  return { accountId, sessionEpoch, signInKey: keyOfSignIn(id) };
}

/** The account as a request of it is known after a new sign-in. */
export async function signedInAs(registry: Registry, accountId: string): Promise<SignedIn> {
  const actor = await currentActor(registry, await tokenOf(registry, accountId));
  if (actor === undefined) throw new Error('no such account');
  return actor;
}

export interface Vehicle {
  modelId: string;
  carId: string;
  baselineId: string;
  lowId: string;
}

/** A model with a baseline setup and one lowered, and a car of it. */
export async function vehicleOf(registry: Registry, owner: Actor, name = 'Skerry'): Promise<Vehicle> {
  const { modelId } = await addModel(registry, owner, {
    makerName: 'Tarn Works',
    name,
    modelYear: 2025,
    variant: 'long bed',
    bodyClass: 'pickup',
    kerbMassKg: 2900,
    usableCapacityWh: 120_000,
  });
  await addFactorLevel(registry, owner, { modelId, factor: 'rideHeight', label: 'normal' });
  const { levelId } = await addFactorLevel(registry, owner, { modelId, factor: 'rideHeight', label: 'low' });
  const { setupId: baselineId } = await addSetup(registry, owner, { modelId, levelIds: [] });
  const { setupId: lowId } = await addSetup(registry, owner, { modelId, levelIds: [levelId] });
  const { carId } = await addCar(registry, owner, {
    modelId,
    name: `${name} of ${owner.accountId.slice(-4)}`,
    placardFrontPa: 290_000,
    placardRearPa: 290_000,
  });
  return { modelId, carId, baselineId, lowId };
}

export async function loopOf(registry: Registry, owner: Actor, name = 'North causeway'): Promise<string> {
  const { loopId } = await addLoop(registry, owner, {
    name,
    region: 'Outer Isles',
    turnaround: 'Junction 9',
    lengthM: 107_500,
    lengthUncertaintyM: 100,
    lengthSource: 'map',
    altitudeM: 20,
    closureDistanceM: 20,
    closureHeightM: 0,
    sharedRouteShare: 0.98,
    offCruiseShare: 0.05,
    postedLimitMps: 120 / 3.6,
    bearings: [
      { bearingDeg: 20, share: 0.5 },
      { bearingDeg: 200, share: 0.5 },
    ],
    legs: [
      { direction: 'outbound', lengthM: 53_750, netClimbM: 10, bearings: [{ bearingDeg: 20, share: 1 }] },
      { direction: 'return', lengthM: 53_750, netClimbM: -10, bearings: [{ bearingDeg: 200, share: 1 }] },
    ],
  });
  return loopId;
}

let photos = 0;

/** A small picture, another each time, as no photo is on two runs: what it shows does not matter here. */
export function somePhoto(): Promise<Uint8Array> {
  photos += 1;
  const [width, height] = [64 + (photos % 64), 48 + Math.floor(photos / 64)];
  return sharp({ create: { width, height, channels: 3, background: '#c8c0b0' } })
    .jpeg()
    .toBuffer();
}

let kilometres = 20_000;
/** Another reading each time, as no two drives have all numbers in common. */
export function someOdometer(): string {
  kilometres += 137;
  return String(kilometres);
}

export interface SubmittedRunRef {
  runId: string;
  runNumber: number;
  revisionNumber: number;
}

/** A run recorded as its tester would: draft, two photos, submission. */
export async function submitted(
  registry: Registry,
  tester: Actor,
  form: RunForm,
  withPhotos = true,
): Promise<SubmittedRunRef> {
  const draft = await startDraft(registry, tester, {
    creationKey: crypto.randomUUID(),
    form: completeForm({ odometerStart: someOdometer(), odometerStartUnit: 'km', ...form }),
  });
  if (withPhotos) {
    const bytes = await somePhoto();
    for (const kind of ['startDisplay', 'finishDisplay']) {
      await addEvidence(registry, tester, { runId: draft.runId, kind, bytes });
    }
  }
  const result = await submitRun(registry, tester, { runId: draft.runId, draftVersion: draft.draftVersion });
  return { runId: draft.runId, ...result };
}

export async function approved(
  registry: Registry,
  tester: Actor,
  reviewer: Actor,
  form: RunForm,
): Promise<SubmittedRunRef> {
  const run = await submitted(registry, tester, form);
  await approve(registry, reviewer, run);
  return run;
}

/** By this reviewer, and by another one where it needs two. */
export async function approve(
  registry: Registry,
  reviewer: Actor,
  { runId, revisionNumber }: Pick<SubmittedRunRef, 'runId' | 'revisionNumber'>,
): Promise<void> {
  const decision = { runId, revisionNumber, kind: 'approve' };
  await claimRun(registry, reviewer, { runId });
  if ((await decideReview(registry, reviewer, decision)) !== 'approveFirst') return;
  const run = await registry.db.run.findUniqueOrThrow({ where: { id: runId }, select: { testerId: true } });
  const other = await registry.db.account.findFirstOrThrow({
    where: { role: { in: ['reviewer', 'steward'] }, id: { notIn: [reviewer.accountId, run.testerId] } },
  });
  const second: Actor = { accountId: other.id, role: other.role };
  await claimRun(registry, second, { runId });
  await decideReview(registry, second, decision);
}
