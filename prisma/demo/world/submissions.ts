import type { RunForm } from '@/lib/run/runForm';
import type { DrivenRun } from './drive';
import { FAULT_NOTES, type PlantedFault, spoilForm } from './faults';
import { REVIEWERS } from './people';
import { photosOf } from './photos';
import { RandomStream } from './randomStream';
import type { DemoFault, DemoPhoto, DemoReview, DemoRevision } from './types';

const MINUTE_MS = 60_000;
const HOUR_MS = 60 * MINUTE_MS;

/** The revisions of one run with their reviews, from a good form and what, if anything, went wrong with it. */
export function submissionsOf(
  seed: number,
  run: DrivenRun,
  goodForm: RunForm,
  planted: PlantedFault | undefined,
  isLeftWaiting: boolean,
): DemoRevision[] {
  const stream = new RandomStream(seed, `submission ${run.key}`);
  const photos = photosOf(goodForm, stream.chance(0.4), new RandomStream(seed, `photos ${run.key}`));
  const finishedAtMs = run.startedAtMs + 1000 * run.truth.durationS;
  const submittedAtMs = finishedAtMs + stream.uniform(0.7, 20) * HOUR_MS;
  if (planted === undefined) {
    const review = isLeftWaiting
      ? undefined
      : reviewOf(stream, submittedAtMs, 'approve', approvalNote(stream));
    return [{ form: goodForm, photos, submittedAt: iso(submittedAtMs), fault: undefined, review }];
  }
  const { fault, ending } = planted;
  const spoiled: DemoRevision = {
    form: spoilForm(goodForm, fault),
    photos: fault === 'noFinishPhoto' ? withoutFinish(photos) : photos,
    submittedAt: iso(submittedAtMs),
    fault,
    review:
      ending === 'waiting'
        ? undefined
        : reviewOf(
            stream,
            submittedAtMs,
            ending === 'rejected' ? 'reject' : 'askChanges',
            FAULT_NOTES[fault],
          ),
  };
  if (ending !== 'repaired' || spoiled.review === undefined) return [spoiled];
  const repairedAtMs = Date.parse(spoiled.review.decidedAt) + stream.uniform(2, 40) * HOUR_MS;
  const repaired: DemoRevision = {
    form: goodForm,
    // photos of the first revision stay with the run; only what was missing is added
    photos: fault === 'noFinishPhoto' ? photos.filter((photo) => photo.kind === 'finishDisplay') : [],
    submittedAt: iso(repairedAtMs),
    fault: undefined,
    review: reviewOf(stream, repairedAtMs, 'approve', 'Corrected; agrees with the photo now.'),
  };
  return [spoiled, repaired];
}

/** A second submission of a run that is already on record. */
export function duplicateOf(seed: number, key: string, original: DemoRevision): DemoRevision {
  const stream = new RandomStream(seed, `duplicate ${key}`);
  const submittedAtMs =
    Date.parse(original.review?.decidedAt ?? original.submittedAt) + stream.uniform(20, 60) * HOUR_MS;
  const fault: DemoFault = 'duplicate';
  return {
    form: original.form,
    photos: original.photos,
    submittedAt: iso(submittedAtMs),
    fault,
    review: reviewOf(stream, submittedAtMs, 'reject', FAULT_NOTES[fault]),
  };
}

function reviewOf(
  stream: RandomStream,
  submittedAtMs: number,
  kind: DemoReview['kind'],
  note: string,
): DemoReview {
  const claimedAtMs = submittedAtMs + stream.uniform(3, 80) * HOUR_MS;
  return {
    reviewerKey: stream.pick(REVIEWERS).key,
    claimedAt: iso(claimedAtMs),
    decidedAt: iso(claimedAtMs + stream.uniform(4, 40) * MINUTE_MS),
    kind,
    note,
  };
}

function approvalNote(stream: RandomStream): string {
  return stream.pick(['', '', '', 'Readings agree with the photos.', 'Clear photos, thank you.']);
}

function withoutFinish(photos: readonly DemoPhoto[]): DemoPhoto[] {
  return photos.filter((photo) => photo.kind !== 'finishDisplay');
}

function iso(instantMs: number): string {
  return new Date(Math.round(instantMs)).toISOString();
}
