import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { Conflict, type InputIssue, InvalidInput, NotAllowed, NotFound } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { worldKey } from '@/lib/run/world';
import { appendAudit } from '@/lib/store/audit';
import { drivesIn, lockStudy, studyById } from '@/lib/store/studies';
import { moveVideoTime, videoTimesOf } from '@/lib/store/studyRuns';
import { parseVideoTime, showVideoTime } from '@/lib/study/videoTimes';
import type { Registry } from '../registry';

/** The field of a run's time, by the run's number. */
export const VIDEO_FIELD = 'at-';

const timesSchema = z.object({
  studyId: z.uuid(),
  /** As typed, by the run's number; empty takes a time back. */
  times: z.record(z.string().regex(/^\d{1,9}$/), z.string().max(40)),
});

/** Says where runs of one's own begin in one's video of a study. Runs that are not named keep their times. */
export async function timeRuns(registry: Registry, actor: Actor | undefined, input: unknown): Promise<void> {
  authorise(actor, 'planStudy');
  const { studyId, times } = parseInput(timesSchema, input);
  const study = await studyById(registry.db, studyId);
  if (study === null) throw new NotFound('This study does not exist.');
  authorise(actor, 'planStudy', study.ownerId, worldKey(study.world));
  const { accountId } = actor;
  if (!(await drivesIn(registry.db, studyId, accountId)))
    throw new NotAllowed('Only those who drive in a study say where its runs begin in their video.', true);
  const at = registry.now();
  await registry.db.$transaction(async (tx) => {
    await lockStudy(tx, studyId);
    const known = await videoTimesOf(tx, studyId, accountId);
    const { after, issues } = read(times, known);
    if (issues.length > 0) throw new InvalidInput(issues);
    const changed = known.filter(({ number, videoAtS }) => after.get(number) !== videoAtS);
    if (changed.length === 0) return;
    for (const { runId, number, videoAtS } of changed) {
      const moved = await moveVideoTime(tx, runId, { before: videoAtS, after: after.get(number) ?? null });
      if (!moved) throw new Conflict('These times were changed in another window. Look at them again.');
    }
    await appendAudit(tx, {
      at,
      actorId: accountId,
      action: 'study.timeRuns',
      subjectKind: 'study',
      subjectId: studyId,
      details: {
        runs: changed.map(
          ({ number, videoAtS }) =>
            `${number}: ${timeWords(videoAtS)} → ${timeWords(after.get(number) ?? null)}`,
        ),
      },
    });
  });
}

/** What each run's time is afterwards, and what cannot be one. */
function read(
  times: Readonly<Record<string, string>>,
  known: readonly { number: number; videoAtS: number | null }[],
) {
  const after = new Map(known.map(({ number, videoAtS }) => [number, videoAtS]));
  const issues: InputIssue[] = [];
  for (const [name, text] of Object.entries(times)) {
    const number = Number(name);
    const seconds = text.trim() === '' ? null : parseVideoTime(text);
    if (!after.has(number) || seconds === undefined) {
      issues.push(after.has(number) ? notATime(name) : notYours(name));
    } else after.set(number, seconds);
  }
  const given = [...after.values()].filter((seconds) => seconds !== null);
  for (const [name, text] of Object.entries(times)) {
    const seconds = parseVideoTime(text);
    if (seconds !== undefined && given.filter((one) => one === seconds).length > 1)
      issues.push(sameTime(name));
  }
  return { after, issues };
}

function timeWords(seconds: number | null): string {
  return seconds === null ? 'none' : showVideoTime(seconds);
}

const notATime = (number: string): InputIssue => ({
  path: `${VIDEO_FIELD}${number}`,
  what: 'This is no time in a video.',
  why: 'Times stand under a video as minutes and seconds, such as 3:07, or from an hour on as 1:23:07.',
  fix: 'Write it in one of these forms, below 24 hours, or leave it empty.',
});

const notYours = (number: string): InputIssue => ({
  path: `${VIDEO_FIELD}${number}`,
  what: `Run ${number} is not a run of yours in this study.`,
  why: 'Only who drove a run knows where it begins in their video.',
  fix: 'Open the page again: it lists your runs.',
});

const sameTime = (number: string): InputIssue => ({
  path: `${VIDEO_FIELD}${number}`,
  what: 'Two runs begin at this time.',
  why: 'Each line of the list leads to one place in the video.',
  fix: 'Correct one of the two, or leave it empty.',
});
