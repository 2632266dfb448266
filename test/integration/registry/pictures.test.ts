import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { NEARLY_SAME_BITS } from '@/lib/files/pictureHash';
import { prepareRegistry } from '@/lib/registry/prepareRegistry';
import { claimRun } from '@/lib/registry/review/claimRun';
import { decideReview } from '@/lib/registry/review/decideReview';
import { readReview } from '@/lib/registry/review/review';
import { addEvidence } from '@/lib/registry/runs/addEvidence';
import { evidenceFile } from '@/lib/registry/runs/evidenceFile';
import { hashPictures } from '@/lib/registry/runs/hashPictures';
import { readRun } from '@/lib/registry/runs/run';
import { startDraft } from '@/lib/registry/runs/startDraft';
import { submitRun } from '@/lib/registry/runs/submitRun';
import { InvalidInput } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
import { likeQuery } from '@/lib/store/pictures';
import { freshDatabase } from '@/test/helpers/database';
import { completeForm } from '@/test/helpers/runForms';
import { loopOf, person, registryOn, somePhoto, vehicleOf } from '@/test/helpers/smallRegistry';
import { dashboardPhoto } from '@/test/lib/files/dashboards';

const { prisma } = await freshDatabase();
const { registry, clock, remove } = await registryOn(prisma);
afterAll(remove);

type Photos = readonly [start: Uint8Array, finish: Uint8Array];
interface Recorder {
  actor: Actor;
  form: { carId: string; setupId: string; loopId: string };
}

let day = 1;

async function recorder(name: string): Promise<Recorder> {
  const actor = await person(registry, name);
  const { carId, baselineId } = await vehicleOf(registry, actor, name.split(' ')[1] ?? name);
  return { actor, form: { carId, setupId: baselineId, loopId } };
}

async function draftWith({ actor, form }: Recorder, photos: Photos, keepCaptureTime = false) {
  day += 1;
  const startedAtLocal = `2026-05-${String(day).padStart(2, '0')}T09:30`;
  const draft = await startDraft(registry, actor, {
    creationKey: `draft of day ${day}`,
    form: completeForm({ ...form, startedAtLocal }),
  });
  for (const [place, kind] of ['startDisplay', 'finishDisplay'].entries()) {
    clock.now = new Date(clock.now.getTime() + 1000);
    const bytes = photos[place] ?? new Uint8Array();
    await addEvidence(registry, actor, { runId: draft.runId, kind, bytes, keepCaptureTime });
  }
  return draft;
}

async function send({ actor }: Recorder, draft: { runId: string; draftVersion: number }) {
  const { runNumber } = await submitRun(registry, actor, {
    runId: draft.runId,
    draftVersion: draft.draftVersion,
  });
  const view = await readRun(registry, actor, runNumber);
  const { notable = [], notChecked = [], passed = [] } = view?.findings ?? {};
  const all = [...notable, ...notChecked, ...passed];
  const outcomeOf = (id: string) => all.find(({ ruleId }) => ruleId === id);
  return { runId: draft.runId, runNumber, outcomeOf };
}

const sent = async (who: Recorder, photos: Photos) => send(who, await draftWith(who, photos));

const photosOf = (car: number): Promise<Photos> =>
  Promise.all([dashboardPhoto(car, 1), dashboardPhoto(car, 2)]);

let loopId: string;
let mira: Recorder;
let reviewer: Actor;
let original: Awaited<ReturnType<typeof sent>>;
let ofMira: Photos;

beforeAll(async () => {
  reviewer = await person(registry, 'Ada Quill', 'reviewer');
  loopId = await loopOf(registry, reviewer);
  mira = await recorder('Mira Holm');
  ofMira = await photosOf(1);
  original = await sent(mira, ofMira);
  await claimRun(registry, reviewer, { runId: original.runId });
  await decideReview(registry, reviewer, { runId: original.runId, revisionNumber: 1, kind: 'approve' });
});

describe('runs of new accounts with the photos of a public run', () => {
  it('each fail, in whatever order they are sent in, and none can be approved', async () => {
    const thieves = await Promise.all(['Jo Kite', 'Jo Heron', 'Jo Finch'].map(recorder));
    // Saved as any reader can: the pictures as the registry shows them, which are encoded anew on their way in.
    const kept = await prisma.evidenceFile.findMany({
      where: { runId: original.runId },
      orderBy: { id: 'asc' },
    });
    const shown = async (digest = '') => (await evidenceFile(registry, undefined, digest)).bytes;
    const copies = await Promise.all([kept[0]?.sha256, kept[1]?.sha256, kept[0]?.thumbSha256].map(shown));
    const [start = new Uint8Array(), finish = start, small = start] = copies;
    const drafts = [];
    for (const [place, photos] of ([ofMira, [start, finish], [small, small]] as const).entries()) {
      const thief = thieves[place] ?? mira;
      drafts.push({ thief, draft: await draftWith(thief, photos) });
    }
    expect(await prisma.evidenceFile.count({ where: { sha256: kept[0]?.sha256 ?? '' } })).toBe(2);
    for (const { thief, draft } of drafts.reverse()) {
      const run = await send(thief, draft);
      expect(run.outcomeOf('same-picture')).toMatchObject({ outcome: 'fail' });
      expect(run.outcomeOf('same-picture')?.sentence).toContain(
        `run ${original.runNumber} of another tester`,
      );
      await claimRun(registry, reviewer, { runId: run.runId });
      await expect(
        decideReview(registry, reviewer, { runId: run.runId, revisionNumber: 1, kind: 'approve' }),
      ).rejects.toThrow(InvalidInput);
    }
  });

  it('leave whoever was first alone', async () => {
    const again = await readReview(registry, reviewer, original.runNumber);
    expect(again.pictures).toEqual([]);
  });

  it('are a caution on the second run of whoever was first', async () => {
    const second = await sent(mira, [ofMira[0], await dashboardPhoto(1, 3)]);
    expect(second.outcomeOf('same-picture')).toMatchObject({
      outcome: 'caution',
      numbers: [{ name: 'Same picture as on run', value: original.runNumber, unit: '' }],
    });
    expect(second.outcomeOf('nearly-same-picture')?.outcome).toBe('pass');
  });

  it('are found where they were made smaller and brighter, with both shown to the reviewer', async () => {
    const thief = await recorder('Jo Siskin');
    const altered = (picture: Uint8Array) =>
      sharp(picture).resize(420).modulate({ brightness: 1.2 }).webp({ quality: 60 }).toBuffer();
    const run = await sent(thief, [await altered(ofMira[0]), await altered(ofMira[1])]);
    expect(run.outcomeOf('same-picture')?.outcome).toBe('pass');
    const found = run.outcomeOf('nearly-same-picture');
    expect(found?.outcome).toBe('caution');
    expect(found?.numbers.map(({ value }) => value)).toContain(original.runNumber);
    const { pictures } = await readReview(registry, reviewer, run.runNumber);
    const beside = pictures.filter(({ runNumber }) => runNumber === original.runNumber);
    expect(beside.map(({ own, other }) => [own.kind, other?.photo.kind, other?.tester])).toEqual(
      expect.arrayContaining([
        ['startDisplay', 'startDisplay', 'Mira Holm'],
        ['finishDisplay', 'finishDisplay', 'Mira Holm'],
      ]),
    );
    for (const { other } of beside) {
      await expect(evidenceFile(registry, reviewer, other?.photo.sha256 ?? '')).resolves.toBeDefined();
    }
  });

  it('are not shown of a run that the reviewer may not see', async () => {
    const bram = await recorder('Bram Lark');
    const photos = await photosOf(2);
    const hidden = await draftWith(bram, photos);
    const run = await sent(await recorder('Jo Wren'), photos);
    expect(run.outcomeOf('same-picture')?.outcome).toBe('fail');
    const { pictures } = await readReview(registry, reviewer, run.runNumber);
    expect(pictures.length).toBeGreaterThan(0);
    expect(pictures.map(({ other }) => other)).toEqual(pictures.map(() => null));
    expect((await send(bram, hidden)).outcomeOf('same-picture')?.outcome).toBe('pass');
    const seen = await readReview(registry, reviewer, run.runNumber);
    expect(seen.pictures[0]?.other?.tester).toBe('Bram Lark');
  });
});

describe('other photos', () => {
  it('pass: of one display from another place, and such on which nothing is to be seen', async () => {
    const run = await sent(mira, [await dashboardPhoto(1, 4), await dashboardPhoto(1, 5)]);
    const blank = await sent(mira, [await somePhoto(), await somePhoto()]);
    for (const each of [run, blank]) {
      expect(each.outcomeOf('same-picture')?.outcome).toBe('pass');
      expect(each.outcomeOf('nearly-same-picture')?.outcome).toBe('pass');
      expect(each.outcomeOf('photo-time')?.outcome).toBe('notChecked');
    }
  });

  it('are a caution when they were taken on another day', async () => {
    const takenOn = async (date: string, photo: number) =>
      sharp(await dashboardPhoto(3, photo))
        .withExif({ IFD2: { DateTimeOriginal: `2026:05:${date} 09:31:00`, OffsetTimeOriginal: '+00:00' } })
        .jpeg()
        .toBuffer();
    const today = String(day + 1).padStart(2, '0');
    const draft = await draftWith(mira, [await takenOn(today, 1), await takenOn('01', 2)], true);
    const run = await send(mira, draft);
    expect(run.outcomeOf('photo-time')?.outcome).toBe('caution');
    expect(run.outcomeOf('photo-time')?.numbers[0]).toMatchObject({
      name: 'Photo before the start',
      limit: 0.5,
    });
    const rows = await prisma.evidenceFile.findMany({ where: { runId: run.runId } });
    expect(rows.map((row) => row.capturedUtcOffsetMin)).toEqual([0, 0]);
  });
});

describe('the hashes of photos from before', () => {
  it('are made once by a job, the same as an upload makes', async () => {
    const order = {
      orderBy: { id: 'asc' },
      select: { id: true, pictureHash: true, pictureBands: true },
    } as const;
    const before = await prisma.evidenceFile.findMany(order);
    await prisma.evidenceFile.updateMany({ data: { isHashed: false, pictureHash: null, pictureBands: [] } });
    const gone = before[0]?.id ?? '';
    await prisma.evidenceFile.update({ where: { id: gone }, data: { thumbSha256: '0'.repeat(64) } });
    await prepareRegistry(registry);
    expect(await prisma.job.count({ where: { kind: 'hashPictures', state: 'queued' } })).toBe(1);
    expect(await hashPictures(registry)).toBe(before.length);
    expect(await prisma.evidenceFile.findMany(order)).toEqual(
      before.map((row) => (row.id === gone ? { ...row, pictureHash: null, pictureBands: [] } : row)),
    );
    expect(await hashPictures(registry)).toBe(0);
  });
});

describe('the search', () => {
  it('can start from the indexes: equal digests, and one byte of the hash', async () => {
    const { id } = await prisma.evidenceFile.findFirstOrThrow({ where: { pictureHash: { not: null } } });
    const query = likeQuery([id], NEARLY_SAME_BITS);
    const rows = await prisma.$transaction(async (tx) => {
      // So few pictures are read whole sooner than by an index; the question is whether the query lets it.
      await tx.$executeRaw`SET LOCAL enable_seqscan = off`;
      return tx.$queryRawUnsafe<{ 'QUERY PLAN': string }[]>(`EXPLAIN ${query.text}`, ...query.values);
    });
    const plan = rows.map((row) => row['QUERY PLAN']).join('\n');
    for (const column of ['pictureBands', 'sha256', 'thumbSha256', 'sourceSha256'])
      expect(plan).toContain(`EvidenceFile_${column}_idx`);
    expect(plan).not.toContain('Seq Scan on "EvidenceFile"');
  });
});
