import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readPublicTrack, readTrace } from '@/lib/capture/stored';
import { traceOffers } from '@/lib/capture/trace/traceOffers';
import { traceLimits } from '@/lib/capture/trace/tracePoint';
import { digestOf } from '@/lib/files/blobStore';
import { normalisationCaseSchema } from '@/lib/physics/caseSchema';
import type { StoredReduction } from '@/lib/reduction/storedReduction';
import { addEvidence } from '@/lib/registry/runs/addEvidence';
import { renormaliseAll } from '@/lib/registry/runs/renormaliseAll';
import { startDraft } from '@/lib/registry/runs/startDraft';
import { submitRun } from '@/lib/registry/runs/submitRun';
import { attachTrace, changeTrace, removeTrace } from '@/lib/registry/traces/attachTrace';
import { draftsFromRecordings, MOST_RECORDINGS } from '@/lib/registry/traces/draftsFromRecordings';
import { takeTraceValues } from '@/lib/registry/traces/takeTraceValues';
import { Conflict, InvalidInput, NotAllowed, TooLarge } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
import { freshDatabase } from '@/test/helpers/database';
import { causewayDrive, dayOf, recording, toCsv, toGeoJson } from '@/test/helpers/recordings';
import { completeForm } from '@/test/helpers/runForms';
import { loopOf, person, registryOn, somePhoto, type Vehicle, vehicleOf } from '@/test/helpers/smallRegistry';
import { drive, toGpx } from '../../lib/capture/trace/syntheticDrive';

const { prisma } = await freshDatabase();
const { registry, remove } = await registryOn(prisma);

let tester: Actor;
let other: Actor;
let vehicle: Vehicle;
let loopId: string;

beforeAll(async () => {
  tester = await person(registry, 'Mira Holm');
  other = await person(registry, 'Jonas Reet');
  vehicle = await vehicleOf(registry, tester);
  loopId = await loopOf(registry, tester);
});
afterAll(remove);

async function draft(changes: Record<string, string> = {}) {
  const form = completeForm({ carId: vehicle.carId, setupId: vehicle.baselineId, loopId, ...changes });
  return startDraft(registry, tester, { creationKey: crypto.randomUUID(), form });
}

async function traceRow(runId: string) {
  const row = await prisma.trace.findFirstOrThrow({ where: { runId, removedAt: null } });
  const [stored, track] = [readTrace(row.reduction), readPublicTrack(row.publicTrack)];
  if (stored === undefined || track === undefined) throw new Error('the recording cannot be read');
  return { ...row, stored, track };
}

/** From the store's JSON. */
const reductionOf = (json: unknown) => json as StoredReduction;

async function issuesOf(promise: Promise<unknown>) {
  const error = await promise.then(
    () => undefined,
    (reason: unknown) => reason,
  );
  if (!(error instanceof InvalidInput)) throw error ?? new Error('nothing was refused');
  return error.issues;
}

describe('a recording on a draft', () => {
  it('keeps file, figures and a track without its ends', async () => {
    const { runId } = await draft();
    const bytes = recording();
    await attachTrace(registry, tester, { runId, fileName: '../../loop.gpx', bytes });
    const { stored, track, ...row } = await traceRow(runId);
    const truth = drive(causewayDrive);
    expect(row).toMatchObject({ fileName: 'loop.gpx', format: 'gpx', pointsRead: truth.points.length });
    expect(row.sha256).toBe(digestOf(bytes));
    expect(Buffer.from((await registry.blobs.get(digestOf(bytes))) ?? []).equals(Buffer.from(bytes))).toBe(
      true,
    );
    // the plan's own closed form; positions are rounded to 10⁻⁷ degrees and cut the corners of the track by nothing
    expect(stored.reduction.distanceM / truth.totalM).toBeCloseTo(1, 3);
    expect(stored.reduction.meanSquareSpeedM2S2 / truth.meanSquareSpeedM2S2).toBeCloseTo(1, 2);
    expect(stored.reduction.cruise?.meanSpeedMps).toBeCloseTo(causewayDrive.cruiseMps, 1);

    const points = track.stretches.flat();
    expect(points.length).toBeGreaterThan(300);
    expect(Math.min(...points.map((point) => point.distanceM))).toBeGreaterThanOrEqual(500);
    expect(Math.max(...points.map((point) => point.distanceM))).toBeLessThanOrEqual(107_500 - 500);
    // the public JSON holds no coordinates at all
    expect(JSON.stringify(row.publicTrack)).not.toMatch(/latitude|longitude|47\.1|15\.2/);
  });

  it('takes the same file twice as one, and another in place of the first', async () => {
    const { runId } = await draft();
    const first = await attachTrace(registry, tester, { runId, bytes: recording() });
    expect(await attachTrace(registry, tester, { runId, bytes: recording() })).toEqual({
      traceId: first.traceId,
      wasThere: true,
    });
    const bytes = recording({ haltS: 90 });
    const second = await attachTrace(registry, tester, { runId, bytes });
    expect(second.traceId).not.toBe(first.traceId);
    expect(await prisma.trace.count({ where: { runId } })).toBe(1);
  });

  it('takes two uploads at once one after the other', async () => {
    const { runId } = await draft();
    await Promise.all(
      [30, 60, 90].map((haltS) => attachTrace(registry, tester, { runId, bytes: recording({ haltS }) })),
    );
    expect(await prisma.trace.count({ where: { runId, removedAt: null } })).toBe(1);
  });

  it('hides more when asked, never less than half a kilometre', async () => {
    const { runId } = await draft();
    await attachTrace(registry, tester, { runId, bytes: recording() });
    await changeTrace(registry, tester, { runId, trimM: 3000 });
    const { track } = await traceRow(runId);
    expect(Math.min(...track.stretches.flat().map((point) => point.distanceM))).toBeGreaterThanOrEqual(3000);
    const issues = await issuesOf(changeTrace(registry, tester, { runId, trimM: 100 }));
    expect(issues[0]).toMatchObject({ path: 'trimM', fix: expect.stringContaining('500 m or more') });
  });

  it('is only its tester’s to send, and only while the run is a draft', async () => {
    const { runId } = await draft();
    await expect(attachTrace(registry, other, { runId, bytes: recording() })).rejects.toThrow(NotAllowed);
    await expect(attachTrace(registry, undefined, { runId, bytes: recording() })).rejects.toThrow(NotAllowed);
    expect(await prisma.trace.count({ where: { runId } })).toBe(0);
  });

  it('goes with its file when it is taken off', async () => {
    const { runId } = await draft();
    const bytes = recording({ haltS: 47 });
    await attachTrace(registry, tester, { runId, bytes });
    expect(await registry.blobs.has(digestOf(bytes))).toBe(true);
    await removeTrace(registry, tester, { runId });
    expect(await prisma.trace.count({ where: { runId } })).toBe(0);
    expect(await registry.blobs.has(digestOf(bytes))).toBe(false);
  });
});

describe('what is refused, and why', () => {
  it('says of each file what to do', async () => {
    const { runId } = await draft();
    const send = (bytes: Uint8Array, more = {}) =>
      issuesOf(attachTrace(registry, tester, { runId, bytes, ...more }));
    const text = (content: string) => new TextEncoder().encode(content);
    const bare = toGpx(drive(causewayDrive).points.map((point) => ({ ...point, timeMs: null })));
    for (const [bytes, what] of [
      [text(''), 'empty'],
      [new Uint8Array([0x89, 0x50, 0, 0, 0]), 'not text'],
      [text('<kml/>'), 'not GPX 1.1'],
      [text('<!DOCTYPE gpx><gpx/>'), 'document type'],
      [text('{"type":"Point"}'), 'no LineString'],
      [text('just words'), 'neither GPX nor GeoJSON'],
      [text(bare), 'No point has a time'],
      [text(toGpx(drive(causewayDrive).points.slice(0, 5))), '5 of 5 points'],
    ] as const) {
      const [issue] = await send(bytes);
      expect(issue?.what).toContain(what);
      expect(issue?.why).not.toBe('');
      expect(issue?.fix).not.toBe('');
    }
    expect(await prisma.trace.count({ where: { runId } })).toBe(0);
  });

  it('turns away more than the limit as too large', async () => {
    const { runId } = await draft();
    const bytes = new Uint8Array(traceLimits.maxBytes + 1).fill(32);
    await expect(attachTrace(registry, tester, { runId, bytes })).rejects.toThrow(TooLarge);
    const lines = new TextEncoder().encode(`lat,lon,time\n${'1,1,1\n'.repeat(traceLimits.maxPoints + 2)}`);
    await expect(attachTrace(registry, tester, { runId, bytes: lines })).rejects.toThrow(TooLarge);
  });
});

describe('other forms', () => {
  it('asks once what the columns of a CSV mean and remembers it for the same heads', async () => {
    const heads = ['tick', 'phi', 'lambda', 'h'];
    const first = await draft();
    const bytes = toCsv(drive(causewayDrive).points, heads);
    const [issue] = await issuesOf(attachTrace(registry, tester, { runId: first.runId, bytes }));
    expect(issue).toMatchObject({
      path: 'columns.latitude',
      why: expect.stringContaining('tick, phi, lambda, h'),
    });
    const named = { latitude: 'PHI', longitude: '3', time: 'tick', timeForm: 'epochSeconds', elevation: 'h' };
    await attachTrace(registry, tester, { runId: first.runId, bytes, named });
    expect((await traceRow(first.runId)).stored.reduction.distanceM / 107_500).toBeCloseTo(1, 3);

    const second = await draft();
    const later = toCsv(drive({ ...causewayDrive, haltS: 60 }).points, heads);
    await attachTrace(registry, tester, { runId: second.runId, bytes: later });
    expect((await traceRow(second.runId)).stored.columns).toMatchObject({ latitude: 1, longitude: 2 });
    // another tester's mapping is not mine
    await issuesOf(
      attachTrace(registry, tester, {
        runId: second.runId,
        bytes: later,
        named: { ...named, latitude: 'north' },
      }),
    );
    expect(await prisma.columnMapping.count({ where: { accountId: other.accountId } })).toBe(0);
  });

  it('reads a GeoJSON line with times', async () => {
    const { runId } = await draft();
    await attachTrace(registry, tester, { runId, bytes: toGeoJson(drive(causewayDrive).points) });
    const { format, stored } = await traceRow(runId);
    expect(format).toBe('geojson');
    expect(stored.reduction.distanceM / 107_500).toBeCloseTo(1, 3);
  });
});

describe('several runs in one recording', () => {
  it('finds each, takes the one that the form speaks of, and another on demand', async () => {
    const morning = causewayDrive;
    const later = { ...causewayDrive, startMs: causewayDrive.startMs + 2 * 3_600_000 };
    const bytes = new TextEncoder().encode(toGpx(dayOf([morning, later])));
    const { runId } = await draft({ startedAtLocal: '2026-05-14T11:31' });
    await attachTrace(registry, tester, { runId, bytes });
    const { stored } = await traceRow(runId);
    expect(stored.windows).toHaveLength(2);
    expect(Math.abs(stored.reduction.startMs - later.startMs)).toBeLessThan(10_000);
    expect(stored.reduction.distanceM / 107_500).toBeCloseTo(1, 3);
    await changeTrace(registry, tester, { runId, window: stored.windows[0] });
    expect(Math.abs((await traceRow(runId)).stored.reduction.startMs - morning.startMs)).toBeLessThan(10_000);
  });
});

describe('values for the form', () => {
  it('offers what the recording knows and writes only what was chosen', async () => {
    const { runId, draftVersion } = await draft({
      trueSpeed: '',
      withinBandShare: '',
      startedAtLocal: '',
      tripDuration: '58',
    });
    await attachTrace(registry, tester, { runId, bytes: recording() });
    const run = await prisma.run.findUniqueOrThrow({ where: { id: runId } });
    const offers = traceOffers((await traceRow(runId)).stored, run.draft as Record<string, string>);
    const offer = (name: string) => offers.find((one) => one.name === name);
    // 70 mph in the form's own unit
    expect(offer('trueSpeed')).toMatchObject({ text: '70.0', unit: 'mph', typed: '', isSuggested: true });
    expect(offer('withinBandShare')).toMatchObject({ text: '100', isSuggested: true });
    expect(offer('startedAtLocal')).toMatchObject({ text: '2026-05-14T09:30', isSuggested: true });
    expect(offer('tripDuration')).toMatchObject({ isSuggested: false, typed: expect.stringContaining('58') });

    await takeTraceValues(registry, tester, {
      runId,
      draftVersion,
      names: offers.filter((one) => one.isSuggested).map((one) => one.name),
    });
    const after = await prisma.run.findUniqueOrThrow({ where: { id: runId } });
    expect(after.draft).toMatchObject({
      trueSpeed: '70.0',
      startedAtLocal: '2026-05-14T09:30',
      tripDuration: '58',
    });
    await expect(
      takeTraceValues(registry, tester, { runId, draftVersion, names: ['tripDuration'] }),
    ).rejects.toThrow(Conflict);
  });
});

describe('submission', () => {
  it('freezes the recording and normalises from its moments', async () => {
    const { runId, draftVersion } = await draft({ trueSpeed: '69.9', withinBandShare: '' });
    await attachTrace(registry, tester, { runId, bytes: recording() });
    const { id, stored } = await traceRow(runId);
    for (const kind of ['startDisplay', 'finishDisplay'])
      await addEvidence(registry, tester, { runId, kind, bytes: await somePhoto() });
    await submitRun(registry, tester, { runId, draftVersion });
    const revision = await prisma.runRevision.findFirstOrThrow({
      where: { runId },
      include: { normalisations: true, findings: true },
    });
    expect(revision.traceId).toBe(id);
    const engineCase = normalisationCaseSchema.parse(revision.normalisations[0]?.input);
    // speeds as recorded, brought to the length that the recording and the loop agree on
    const scale = reductionOf(revision.normalisations[0]?.result).trace?.lengthScale ?? 0;
    expect(Math.abs(scale - 1)).toBeLessThan(0.002);
    expect(engineCase.run.meanSquareSpeedM2S2).toBeCloseTo(
      scale ** 2 * stored.reduction.meanSquareSpeedM2S2,
      6,
    );
    expect(engineCase.run.cruiseSpeedMps).toBeCloseTo(
      scale * (stored.reduction.cruise?.meanSpeedMps ?? 0),
      6,
    );
    // out and back: slowed down for once at the turnaround and once at the end
    expect(engineCase.run.stops).toHaveLength(2);
    expect(engineCase.uncertainty?.cruiseSpeedMps?.u).toBeCloseTo(0.2 / 3.6, 3);
    const { trace, speed } = reductionOf(revision.normalisations[0]?.result);
    expect(trace?.reasonsNotUsed).toEqual([]);
    expect(trace?.sources).toEqual({
      cruiseSpeed: 'trace',
      meanSquareSpeed: 'trace',
      slowDowns: 'trace',
      bearings: 'trace',
      netClimb: 'other',
    });
    expect(trace?.distanceCheck.agrees).toBe(true);
    expect(speed).toMatchObject({ source: 'trace', byForm: { agrees: true } });
    const band = revision.findings.find((finding) => finding.ruleId === 'cruise-speed-band');
    expect(band?.outcome).toBe('pass');

    await expect(attachTrace(registry, tester, { runId, bytes: recording() })).rejects.toThrow(Conflict);

    // A later method version starts from the recording too: as if this result were under an older one.
    const submittedResult = revision.normalisations[0]?.normalisedWhPerKm;
    await prisma.normalisation.updateMany({
      where: { revisionId: revision.id },
      data: { methodVersion: 'older' },
    });
    await renormaliseAll(registry);
    const again = await prisma.normalisation.findMany({ where: { revisionId: revision.id } });
    expect(again).toHaveLength(2);
    expect(again.map((one) => one.normalisedWhPerKm)).toEqual([submittedResult, submittedResult]);
  });

  it('only compares a recording that is not of the whole loop', async () => {
    const { runId, draftVersion } = await draft({ startedAtLocal: '2026-05-20T09:30' });
    const { points } = drive(causewayDrive);
    const bytes = new TextEncoder().encode(toGpx(points.slice(0, Math.round(points.length * 0.9))));
    await attachTrace(registry, tester, { runId, bytes });
    await submitRun(registry, tester, { runId, draftVersion });
    const normalisation = await prisma.normalisation.findFirstOrThrow({ where: { revision: { runId } } });
    const { trace, speed } = reductionOf(normalisation.result);
    expect(trace?.reasonsNotUsed[0]).toMatch(/shorter than the loop/);
    expect(trace?.distanceCheck.agrees).toBe(false);
    expect(speed.source).toBe('stated');
    expect(normalisationCaseSchema.parse(normalisation.input).run.meanSquareSpeedM2S2).toBeUndefined();
  });

  it('works the share within the band out for the class that is submitted', async () => {
    const { runId, draftVersion } = await draft({
      cruiseClassKey: 'kmh-110',
      startedAtLocal: '2026-05-21T09:30',
    });
    await attachTrace(registry, tester, { runId, bytes: recording() });
    // 70 mph is 112.65 km/h: within 3 km/h of 110, and off 105 by more
    expect((await traceRow(runId)).stored.reduction.cruise?.withinBandShare).toBeGreaterThan(0.95);
    const form = completeForm({
      carId: vehicle.carId,
      setupId: vehicle.baselineId,
      loopId,
      cruiseClassKey: 'mph-65',
      startedAtLocal: '2026-05-21T09:30',
    });
    await submitRun(registry, tester, { runId, draftVersion, form });
    const { stored } = await traceRow(runId);
    expect(stored.cruiseClassKey).toBe('mph-65');
    expect(stored.reduction.cruise?.withinBandShare).toBeLessThan(0.05);
  });
});

describe('several recordings at once', () => {
  const zone = { timeZone: 'Europe/Berlin' };
  const file = (fileName: string, changes: Parameters<typeof recording>[0] = {}) => ({
    fileName,
    bytes: recording(changes),
  });
  const DAY_MS = 86_400_000;

  it('become drafts of the loop and the day, and what cannot be read says why', async () => {
    // The loop as this tester has submitted a recording of it before.
    const before = await draft({ cruiseClassKey: 'mph-70', startedAtLocal: '2026-05-28T09:30' });
    const submittedOn = causewayDrive.startMs + 14 * DAY_MS;
    await attachTrace(registry, tester, { runId: before.runId, bytes: recording({ startMs: submittedOn }) });
    await submitRun(registry, tester, before);

    const files = [
      file('june.gpx', { startMs: causewayDrive.startMs + 20 * DAY_MS }),
      file('elsewhere.gpx', {
        startMs: causewayDrive.startMs + 21 * DAY_MS,
        start: { latitudeDeg: 40, longitudeDeg: 15.2 },
      }),
      { fileName: 'notes.gpx', bytes: new TextEncoder().encode('no recording at all') },
    ];
    const outcomes = await draftsFromRecordings(registry, tester, { carId: vehicle.carId, ...zone, files });
    expect(outcomes).toMatchObject([
      { kind: 'draft', startedAtLocal: '2026-06-03T10:30', loopName: expect.any(String), wasThere: false },
      { kind: 'draft', startedAtLocal: '2026-06-04T10:30', loopName: undefined },
      { kind: 'refused', fileName: 'notes.gpx', reason: expect.stringContaining('neither GPX nor GeoJSON') },
    ]);
    const [first, second] = outcomes;
    if (first?.kind !== 'draft' || second?.kind !== 'draft') throw new Error('no drafts');
    const drafts = await prisma.run.findMany({
      where: { id: { in: [first.runId, second.runId] } },
      orderBy: { number: 'asc' },
      select: { status: true, draft: true },
    });
    expect(drafts).toMatchObject([
      {
        status: 'draft',
        draft: {
          carId: vehicle.carId,
          loopId,
          cruiseClassKey: 'mph-70',
          utcOffsetMin: '120',
          trueSpeedMethod: 'positioning',
          trueSpeed: expect.stringMatching(/^112\.[67]$/),
        },
      },
      { status: 'draft', draft: { carId: vehicle.carId } },
    ]);
    expect(drafts[1]?.draft).not.toHaveProperty('loopId');
    // The ends are hidden as for one recording, and the same file once more makes nothing.
    expect((await traceRow(first.runId)).stored.trimM).toBe(500);
    const again = await draftsFromRecordings(registry, tester, {
      carId: vehicle.carId,
      ...zone,
      files: files.slice(0, 1),
    });
    expect(again).toMatchObject([{ kind: 'draft', runId: first.runId, wasThere: true }]);
  });

  it('are bounded in number and are for a car of one’s own', async () => {
    const one = file('one.gpx');
    const many = { carId: vehicle.carId, files: Array.from({ length: MOST_RECORDINGS + 1 }, () => one) };
    expect((await issuesOf(draftsFromRecordings(registry, tester, many))).map(({ path }) => path)).toEqual([
      'files',
    ]);
    const foreign = draftsFromRecordings(registry, other, { carId: vehicle.carId, files: [one] });
    await expect(foreign).rejects.toThrow(NotAllowed);
  });
});
