import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { NotFound } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import { runFormSchema } from '@/lib/run/parseRunForm';
import type { Actor } from '@/lib/run/roles';
import type { RunForm } from '@/lib/run/runForm';
import { dayFrom, dayOf, dayText } from '@/lib/run/sessionSheet';
import { appendAudit } from '@/lib/store/audit';
import { isUniqueViolation } from '@/lib/store/database';
import { latestForms } from '@/lib/store/drafts';
import { runState } from '@/lib/store/runs';
import {
  insertSheet,
  placeOnSheet,
  sheetByCreationKey,
  sheetOfRun,
  sheetsOfDay,
} from '@/lib/store/sessionSheets';
import type { Registry } from '../registry';

const creationKey = z.string().min(8).max(80);
const openSheetSchema = z.object({ creationKey, localDate: dayText });
const continueDaySchema = z.object({ creationKey, runId: z.uuid() });

/** Opens the sheet of a day. What lasts beyond a day, car and loop among it, is taken over from the last run. */
export async function openSheet(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<{ sheetId: string }> {
  authorise(actor, 'recordRun');
  const { creationKey: key, localDate } = parseInput(openSheetSchema, input);
  const [last = {}] = await latestForms(registry.db, actor.accountId);
  return sheetOfKey(registry, actor, { key, localDate, shared: dayFrom(last, false) });
}

const openDaySchema = openSheetSchema.extend({ form: runFormSchema.default({}) });

/** Opens the sheet of a day that was begun elsewhere with what it says, or finds the one that this key opened before. */
export async function openDay(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<{ sheetId: string }> {
  authorise(actor, 'recordRun');
  const { creationKey: key, localDate, form } = parseInput(openDaySchema, input);
  return sheetOfKey(registry, actor, { key, localDate, shared: dayOf(form) });
}

/** What the runs of a day are of. */
export interface SheetSubjects {
  carId: string;
  loopId: string;
  cruiseClassKey: string;
}

/**
 * The tester's sheet of a day for one car on one loop in one class: that which is there, or a new one with what lasts of
 * that car's last run.
 */
export async function sheetFor(
  registry: Registry,
  actor: Actor,
  { key, localDate, subjects }: { key: string; localDate: string; subjects: SheetSubjects },
): Promise<{ sheetId: string }> {
  const ofDay = await sheetsOfDay(registry.db, actor.accountId, localDate);
  const known = ofDay.find(({ shared }) =>
    Object.entries(subjects).every(([name, value]) => shared[name] === value),
  );
  if (known !== undefined) return { sheetId: known.id };
  const forms = await latestForms(registry.db, actor.accountId);
  const [last] = forms;
  const ofCar = forms.find(({ carId }) => carId === subjects.carId);
  const lasting = dayFrom(ofCar ?? {}, false);
  const offset: RunForm = last?.utcOffsetMin ? { utcOffsetMin: last.utcOffsetMin } : {};
  return sheetOfKey(registry, actor, { key, localDate, shared: { ...lasting, ...offset, ...subjects } });
}

/** Goes on from one run: the sheet that it stands on, or a new one of its day that it stands on from now on. */
export async function continueDay(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<{ sheetId: string }> {
  const { creationKey: key, runId } = parseInput(continueDaySchema, input);
  const run = await runState(registry.db, runId);
  if (run === null) throw new NotFound('This run does not exist.');
  authorise(actor, 'editRun', run.testerId);
  const known = await sheetOfRun(registry.db, runId);
  if (known !== undefined) return { sheetId: known };
  const localDate = parseInput(dayText, (run.draft.startedAtLocal ?? '').slice(0, 10));
  return sheetOfKey(registry, actor, { key, localDate, shared: dayFrom(run.draft, true), runId });
}

interface NewSheet {
  key: string;
  localDate: string;
  shared: RunForm;
  /** A run that stands on it from the beginning. */
  runId?: string;
}

async function sheetOfKey(
  registry: Registry,
  actor: Actor,
  { key, localDate, shared, runId }: NewSheet,
): Promise<{ sheetId: string }> {
  const known = await sheetByCreationKey(registry.db, actor.accountId, key);
  if (known !== null) return { sheetId: known.id };
  const at = registry.now();
  const said = { at, actorId: actor.accountId };
  try {
    return await registry.db.$transaction(async (tx) => {
      const { id } = await insertSheet(tx, {
        testerId: actor.accountId,
        creationKey: key,
        localDate,
        shared,
        at,
      });
      await appendAudit(tx, {
        ...said,
        action: 'sessionSheet.open',
        subjectKind: 'sessionSheet',
        subjectId: id,
        details: { localDate },
      });
      if (runId !== undefined && (await placeOnSheet(tx, runId, id))) {
        await appendAudit(tx, {
          ...said,
          action: 'run.placeOnSheet',
          subjectKind: 'run',
          subjectId: runId,
          details: { localDate },
        });
      }
      return { sheetId: id };
    });
  } catch (error) {
    // The same form sent twice at once: the other request won.
    const winner = isUniqueViolation(error)
      ? await sheetByCreationKey(registry.db, actor.accountId, key)
      : null;
    if (winner === null) throw error;
    return { sheetId: winner.id };
  }
}
