import { z } from 'zod';
import { said } from '@/lib/units/said';
import type { PhotoTime, PictureNeighbour, RunFacts } from '../facts';
import { isAtMost } from '../grading';
import { millisecondsOf } from '../instant';
import { limit, verdict } from '../parameterKinds';
import { defineRule, type Evaluation, type Verdict } from '../rule';
import { join, limitNumber, numberBeside, scaleOf, spoken, VERDICT_SENTENCES, writeLimit } from '../wording';

const hours = scaleOf('h');

/** So many runs are named; a picture that is on more is no less found. */
const MOST_NAMED = 5;

/** Each run once, those of other testers and the nearest first. */
function runsOf(neighbours: readonly PictureNeighbour[]): PictureNeighbour[] {
  const byRun = new Map<number, PictureNeighbour>();
  const nearestFirst = [...neighbours].sort(
    (a, b) =>
      Number(a.isOwn) - Number(b.isOwn) || a.differingBits - b.differingBits || a.runNumber - b.runNumber,
  );
  for (const each of nearestFirst) if (!byRun.has(each.runNumber)) byRun.set(each.runNumber, each);
  return [...byRun.values()];
}

function found(
  name: string,
  runs: readonly PictureNeighbour[],
  outcome: Verdict,
  advice: string,
): Evaluation {
  const named = runs.slice(0, MOST_NAMED);
  const others = runs.length - named.length;
  const list = named.map(
    ({ runNumber, isOwn }) => `run ${runNumber} of ${isOwn ? 'the same' : 'another'} tester`,
  );
  return {
    outcome,
    numbers: named.map(({ runNumber }) => ({ name: `${name} run`, value: runNumber, unit: '' })),
    sentence: join(
      `${name} ${[...list, ...(others > 0 ? [`${others} more`] : [])].join(', ')}.`,
      VERDICT_SENTENCES[outcome],
      outcome === 'pass' ? '' : advice,
    ),
  };
}

const samePicture = defineRule({
  id: 'same-picture',
  field: 'evidence.startDisplay',
  schema: {
    pictures: z.object({
      sameAsAnother: verdict('Same picture as on a run of another tester'),
      sameAsOwn: verdict('Same picture as on another run of one’s own'),
    }),
  },
  absence: 'notJudged',
  group: 'Record',
  title: 'Photos of no other run',
  why: 'A photo shows one drive. On a second run it shows nothing, and somebody else’s photo was not taken there.',
  appliesTo: 'Runs with photos.',
  guidance: 'Take photos of this drive, with your own camera.',
  limits: ({ pictures: { sameAsAnother, sameAsOwn } }) =>
    `No photo that is on another run pass; on a run of another tester, where it was first, ${sameAsAnother}; on another run of one’s own ${sameAsOwn}`,
  evaluate({ pictures }, { pictures: { sameAsAnother, sameAsOwn } }) {
    const runs = runsOf(pictures.filter(({ isSame }) => isSame));
    if (runs.length === 0)
      return { outcome: 'pass', numbers: [], sentence: 'No photo of it is on another run.' };
    const verdicts = runs.map(({ isOwn }) => (isOwn ? sameAsOwn : sameAsAnother));
    return found('Same picture as on', runs, gravest(verdicts), 'Attach photos of this drive.');
  },
});

const GRAVITY = ['pass', 'caution', 'fail'] as const satisfies readonly Verdict[];

function gravest(verdicts: readonly Verdict[]): Verdict {
  return GRAVITY.findLast((verdict) => verdicts.includes(verdict)) ?? 'pass';
}

/** Two drives of one car may look alike on its display, so the version decides how much that counts. */
const nearlySamePicture = defineRule({
  id: 'nearly-same-picture',
  field: 'evidence.startDisplay',
  schema: {
    pictures: z.object({
      nearlySame: verdict('Nearly the same picture as on another run'),
      nearlySameUpToBits: z
        .number()
        .int()
        .min(0)
        .max(7)
        .meta({ label: 'Nearly the same picture: bits that differ, up to', unit: '' }),
    }),
  },
  absence: 'notJudged',
  group: 'Record',
  title: 'Photos unlike those of other runs',
  why: 'A photo that was cropped, made smaller or encoded anew is still the same photo.',
  appliesTo: 'Runs with photos on which something is to be seen.',
  guidance:
    'Take photos of this drive, with your own camera. A picture can look alike by chance: say so in the notes.',
  limits: ({ pictures: { nearlySame, nearlySameUpToBits } }) =>
    `No photo that looks like one of another run pass; one of whose 64 bits of appearance up to ${nearlySameUpToBits} differ ${nearlySame}`,
  evaluate({ pictures }, { pictures: { nearlySame, nearlySameUpToBits } }) {
    const runs = runsOf(
      pictures.filter(({ isSame, differingBits }) => !isSame && differingBits <= nearlySameUpToBits),
    );
    if (runs.length === 0)
      return { outcome: 'pass', numbers: [], sentence: 'No photo of it looks like one of another run.' };
    return found(
      'Nearly the same picture as on',
      runs,
      nearlySame,
      'Attach photos of this drive, or say in the notes why they look alike.',
    );
  },
});

/** How far outside the run the photo was taken: negative before the start, positive after the finish, 0 within. */
function outsideS({ record }: RunFacts, photo: PhotoTime): number {
  const startS = millisecondsOf(record.startedAt) / 1000;
  const finishS = startS + (record.readings.tripDuration?.value ?? 0);
  const outside = (atS: number) => Math.min(0, atS - startS) + Math.max(0, atS - finishS);
  const atS = millisecondsOf(photo.at) / 1000;
  if (photo.utcOffsetMin !== null) return outside(atS);
  // A camera that says no zone may be on the clock of the loop or on UTC: whichever fits better.
  const [asUtc, atLoop] = [outside(atS), outside(atS - 60 * record.utcOffsetMin)];
  return Math.abs(atLoop) < Math.abs(asUtc) ? atLoop : asUtc;
}

/** A camera's clock may be wrong, so a photo out of time is a caution and never a fail. */
const photoTime = defineRule({
  id: 'photo-time',
  field: 'evidence.startDisplay',
  schema: {
    photoTime: z.object({
      beforeStartUpToS: limit('Photo before the start, pass up to', 'h'),
      afterFinishUpToS: limit('Photo after the finish, pass up to', 'h'),
    }),
  },
  absence: 'notJudged',
  group: 'Record',
  title: 'Photos of the time of the run',
  why: 'A photo taken on another day shows another drive, or the run has a wrong date.',
  appliesTo: 'Runs with a photo whose time of capture was kept.',
  guidance: 'Check the date and the start time, and the clock of the camera.',
  limits: ({ photoTime: { beforeStartUpToS, afterFinishUpToS } }) =>
    `Photos from ${writeLimit(beforeStartUpToS, hours)} before the start to ${writeLimit(afterFinishUpToS, hours)} after the finish pass, otherwise caution; not checked if no photo says its time`,
  evaluate(facts, { photoTime: { beforeStartUpToS, afterFinishUpToS } }) {
    if (facts.photoTimes.length === 0)
      return {
        outcome: 'notChecked',
        numbers: [],
        sentence: 'Not checked: no photo says when it was taken.',
      };
    const judged = facts.photoTimes.map((photo) => {
      const offS = outsideS(facts, photo);
      const limitS = offS < 0 ? beforeStartUpToS : afterFinishUpToS;
      return { offS, limitS, overS: Math.abs(offS) - limitS };
    });
    const [worst] = judged.sort((a, b) => b.overS - a.overS);
    if (worst === undefined || isAtMost(Math.abs(worst.offS), worst.limitS))
      return { outcome: 'pass', numbers: [], sentence: 'The photos that say their time are of the run’s.' };
    const { offS, limitS } = worst;
    const side = offS < 0 ? 'before the start' : 'after the finish';
    return {
      outcome: 'caution',
      numbers: [
        {
          name: `Photo ${side}`,
          value: hours.toShown(Math.abs(offS)),
          unit: 'h',
          limit: hours.toShown(limitS),
        },
      ],
      ...spoken(
        said`A photo was taken ${numberBeside(Math.abs(offS), [limitS], hours, 1)} ${side}; up to ${limitNumber(limitS, hours)} is within the protocol.`,
        'More is accepted with a caution. Check the date, the start time and the clock of the camera.',
      ),
    };
  },
});

export const PICTURE_RULES = [samePicture, nearlySamePicture, photoTime] as const;
