import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { Conflict, NotFound } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { runByCreationKey } from '@/lib/store/runs';
import { sheetOfRun } from '@/lib/store/sessionSheets';
import { nextToDrive, type StudyToDrive } from '@/lib/study/nextToDrive';
import type { Registry } from '../registry';
import { addSheetRun } from '../sessionSheets/addSheetRun';
import { todayOf } from '../sessionSheets/latestDays';
import { sheetFor } from '../sessionSheets/openSheet';
import { studiesToDrive } from './studiesToDrive';

/** What a tester's own pages say of an open study: the car that would be driven today, and what is next with it. */
export interface NextOfStudy {
  study: StudyToDrive;
  /** Null where the tester has no car of the model in use any more. */
  here: { day: string; carId: string } | null;
}

/** The open studies of a tester with what is next today. */
export async function nextOfStudies(registry: Registry, actor: Actor): Promise<NextOfStudy[]> {
  const [studies, today] = await Promise.all([
    studiesToDrive(registry.db, actor.accountId),
    todayOf(registry, actor.accountId),
  ]);
  return studies.map((study) => ({ study, here: hereToday(study, today) }));
}

/** The car with which the study is driven today already, else the one that it was driven with last, else the first. */
function hereToday({ carIds, runs }: StudyToDrive, today: string): NextOfStudy['here'] {
  const own = runs.filter(({ carId }) => carIds.includes(carId));
  const last = own.toSorted((a, b) => a.day.localeCompare(b.day) || a.number - b.number).at(-1);
  const carId = last?.carId ?? carIds[0];
  return carId === undefined ? null : { day: today, carId };
}

const beginSchema = z.object({ studyId: z.uuid(), creationKey: z.string().min(8).max(70) });

/**
 * Begins the run that is next in the plan of a study, today: a draft on the day's sheet, with car, loop, class and setup
 * as planned. Pressed twice, it is one run.
 */
export async function beginPlannedRun(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<{ sheetId: string; runId: string }> {
  authorise(actor, 'recordRun');
  const { studyId, creationKey } = parseInput(beginSchema, input);
  const begun = await runByCreationKey(registry.db, actor.accountId, creationKey);
  const sheetOfBegun = begun === null ? undefined : await sheetOfRun(registry.db, begun.id);
  if (begun !== null && sheetOfBegun !== undefined) return { sheetId: sheetOfBegun, runId: begun.id };
  const found = (await nextOfStudies(registry, actor)).find(({ study }) => study.studyId === studyId);
  if (found === undefined) throw new NotFound('You drive in no such open study.');
  const { study, here } = found;
  if (here === null) throw new Conflict('You have no car of this study’s model in use. Add one first.');
  const { setupId } = nextToDrive(study, { ...here, runs: [] });
  if (setupId === null) throw new Conflict('Nothing is left of the plan for today.');
  const { loopId, cruiseClassKey } = study;
  const subjects = { carId: here.carId, loopId, cruiseClassKey };
  const { sheetId } = await sheetFor(registry, actor, { key: creationKey, localDate: here.day, subjects });
  const { runId } = await addSheetRun(registry, actor, { sheetId, creationKey, setupId, studyId });
  return { sheetId, runId };
}
