import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { digestOf } from '@/lib/files/blobStore';
import { readLoopConsensus } from '@/lib/registry/loops/loopConsensus';
import { addLoopFromTrace, proposedLoop, uploadForLoop } from '@/lib/registry/loops/loopFromTrace';
import { claimRun } from '@/lib/registry/review/claimRun';
import { decideReview } from '@/lib/registry/review/decideReview';
import { addEvidence } from '@/lib/registry/runs/addEvidence';
import { startDraft } from '@/lib/registry/runs/startDraft';
import { submitRun } from '@/lib/registry/runs/submitRun';
import { attachTrace } from '@/lib/registry/traces/attachTrace';
import { readRunTrace } from '@/lib/registry/traces/runTrace';
import { traceFile } from '@/lib/registry/traces/traceFile';
import { InvalidInput, NotAllowed, NotFound } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
import { freshDatabase } from '@/test/helpers/database';
import { causewayDrive, recording } from '@/test/helpers/recordings';
import { completeForm } from '@/test/helpers/runForms';
import { person, registryOn, somePhoto, type Vehicle, vehicleOf } from '@/test/helpers/smallRegistry';
import { drive, toGpx } from '../../lib/capture/trace/syntheticDrive';

const { prisma } = await freshDatabase();
const { registry, remove } = await registryOn(prisma);

let tester: Actor;
let other: Actor;
let reviewer: Actor;
let vehicle: Vehicle;
let loopId: string;

beforeAll(async () => {
  tester = await person(registry, 'Mira Holm');
  other = await person(registry, 'Jonas Reet');
  reviewer = await person(registry, 'Ada Quill', 'reviewer');
  vehicle = await vehicleOf(registry, tester);
});
afterAll(remove);

const words = {
  name: 'North causeway',
  region: 'Outer Isles',
  turnaround: 'Junction 9',
  postedLimitMps: '120',
  postedLimitMpsUnit: 'km/h',
};

describe('a loop from a recording', () => {
  it('proposes length, legs, directions and heights, and adds them as the tester left them', async () => {
    const bytes = recording();
    const { traceId } = await uploadForLoop(registry, tester, { bytes });
    const proposal = await proposedLoop(registry, tester, traceId);
    expect(proposal.lengthM / 107_500).toBeCloseTo(1, 3);
    expect(proposal.turnaroundM / 53_750).toBeCloseTo(1, 2);
    expect(proposal.sharedRouteShare).toBeGreaterThan(0.98);
    // the plan's pieces run 20°, 32° and 8° over 20, 13.75 and 20 of 53.75 km: mean of doubled angles by hand
    const doubled = (f: (x: number) => number) =>
      (20 * f((40 * Math.PI) / 180) + 13.75 * f((64 * Math.PI) / 180) + 20 * f((16 * Math.PI) / 180)) / 53.75;
    // the meridian turns by up to 0.2° along the way
    expect(proposal.means.meanCos2).toBeCloseTo(doubled(Math.cos), 2);
    expect(proposal.means.meanSin2).toBeCloseTo(doubled(Math.sin), 2);
    expect(proposal.legs[0]?.netClimbM).toBeCloseTo(10, 0);
    expect(JSON.stringify(proposal.outline)).not.toMatch(/47\.1|15\.2/);

    await expect(proposedLoop(registry, other, traceId)).rejects.toThrow(NotFound);
    await expect(uploadForLoop(registry, undefined, { bytes })).rejects.toThrow(NotAllowed);
    const form = { ...proposal.form, lengthUncertaintyM: '60' };
    await expect(addLoopFromTrace(registry, tester, { traceId, form })).rejects.toThrow(InvalidInput);

    ({ loopId } = await addLoopFromTrace(registry, tester, { traceId, form: { ...form, ...words } }));
    const loop = await prisma.loop.findUniqueOrThrow({ where: { id: loopId }, include: { legs: true } });
    expect(loop).toMatchObject({ name: 'North causeway', lengthUncertaintyM: 60, netClimbM: 0 });
    expect(loop.legs).toHaveLength(2);
    expect(loop.outline).not.toBeNull();
    // the recording, with every place in it, is gone
    expect(await prisma.trace.count()).toBe(0);
    expect(await registry.blobs.has(digestOf(bytes))).toBe(false);
  });

  it('refuses a drive that does not come back', async () => {
    const { points } = drive(causewayDrive);
    const oneWay = new TextEncoder().encode(toGpx(points.slice(0, Math.round(points.length * 0.45))));
    await expect(uploadForLoop(registry, tester, { bytes: oneWay })).rejects.toThrow(/does not follow/);
  });
});

describe('after approval', () => {
  it('shows readers a track without its ends, keeps the file to tester and reviewers, and tells the loop’s length', async () => {
    const form = completeForm({ carId: vehicle.carId, setupId: vehicle.baselineId, loopId });
    const { runId, draftVersion } = await startDraft(registry, tester, {
      creationKey: crypto.randomUUID(),
      form,
    });
    await attachTrace(registry, tester, { runId, bytes: recording() });
    for (const kind of ['startDisplay', 'finishDisplay'])
      await addEvidence(registry, tester, { runId, kind, bytes: await somePhoto() });
    const { revisionNumber } = await submitRun(registry, tester, { runId, draftVersion });
    const shown = async (actor: Actor | undefined) => {
      const trace = await readRunTrace(registry, actor, { runId, revisionNumber });
      if (trace === 'unreadable') throw new Error('the recording cannot be read');
      return trace;
    };
    expect(await shown(undefined)).toBeUndefined();
    expect((await shown(reviewer))?.fileOfRunId).toBe(runId);
    expect(await readLoopConsensus(registry, await loopRow())).toBeNull();

    await claimRun(registry, reviewer, { runId });
    await decideReview(registry, reviewer, { runId, revisionNumber, kind: 'approve' });
    const view = await shown(undefined);
    expect(view?.fileOfRunId).toBeNull();
    expect(JSON.stringify(view)).not.toMatch(/latitude|longitude|47\.1\d|15\.2\d/);
    expect(view?.use?.sources.cruiseSpeed).toBe('trace');
    expect(view?.legs).toHaveLength(2);
    expect(view?.mapLegs.map(({ key }) => key)).toEqual(['outbound', 'return']);
    // two cruises, and three stretches that are none: start, turnaround, finish
    expect(view?.cruiseStretches).toHaveLength(2);
    expect(view?.offCruise).toHaveLength(3);
    await expect(traceFile(registry, undefined, runId)).rejects.toThrow(NotFound);
    await expect(traceFile(registry, other, runId)).rejects.toThrow(NotFound);
    expect((await traceFile(registry, reviewer, runId)).mediaType).toBe('application/gpx+xml');

    const consensus = await readLoopConsensus(registry, await loopRow());
    expect((consensus?.lengthM ?? 0) / 107_500).toBeCloseTo(1, 3);
    expect(consensus).toMatchObject({ recordings: 1, testers: 1, birgeRatio: null });
  });
});

function loopRow() {
  return prisma.loop.findUniqueOrThrow({ where: { id: loopId } });
}
