import type { ServerDraft } from '@/lib/registry/runs/fieldCard';
import type { HeldSheet } from '@/lib/registry/sessionSheets/heldSheet';
import type { RunForm } from '@/lib/run/runForm';
import { DAY_NAMES } from '@/lib/run/sessionSheet';
import { besideDay, type FieldDay, isDraft, saysOnlyTheDay, serverDay } from './fieldDay';
import type { FieldRun } from './fieldRun';
import { type Held, type KeptForm, type ServerOf, serverHolds, takenFromServer } from './keptForm';
import { changeDay, changeRun, type Phone } from './phone';

/** How one kind of kept form is sent, read back and held against what the phone has. */
export interface SendPlace<Kept extends KeptForm> {
  open: (kept: Kept, form: RunForm) => { href: string; body: object };
  save: (server: ServerOf<Kept>, form: RunForm) => { href: string; body: object };
  /** Under which the answer to a saving names the new version. */
  versionName: string;
  heldAt: (server: ServerOf<Kept>) => string;
  /** What an answer tells, where it is one. */
  heldIn: (body: Record<string, unknown>) => Held<Kept> | undefined;
  take: (now: Kept, held: Held<Kept>) => Kept;
  change: (phone: Phone, key: string, change: (now: Kept) => Kept) => Promise<Kept | undefined>;
}

/** A run, on the sheet of its day where the phone notes it on one. */
export function runPlace(day: FieldDay | undefined): SendPlace<FieldRun> {
  return {
    open: ({ accountId, key, studyId }, form) => ({
      href: '/api/field/runs',
      body: { accountId, creationKey: key, form, studyId, sheetId: day?.server?.sheetId },
    }),
    save: ({ runId, version }, form) => ({
      href: `/api/runs/${runId}/draft`,
      body: { draftVersion: version, form },
    }),
    versionName: 'draftVersion',
    heldAt: ({ runId }) => `/api/field/runs/${runId}`,
    heldIn: (body) => {
      const isOne = isText(body.runId) && isNumber(body.number) && isNumber(body.draftVersion);
      if (!isOne || !isObject(body.form)) return undefined;
      const {
        runId,
        number,
        draftVersion: version,
        form,
        status,
        isEditable,
      } = body as object as ServerDraft;
      return { server: { runId, number, version, form, status }, isEditable };
    },
    take: (now, held) =>
      !isDraft(held.server) && saysOnlyTheDay(now, day)
        ? { ...serverHolds(now, held.server), refusal: undefined, form: held.server.form }
        : takenFromServer(day === undefined ? now : besideDay(now, held.server.form, day.form), held),
    change: changeRun,
  };
}

/** The sheet of a day. */
export const DAY_PLACE: SendPlace<FieldDay> = {
  open: ({ accountId, key, localDate }, form) => ({
    href: '/api/field/days',
    body: { accountId, creationKey: key, localDate, form },
  }),
  save: ({ sheetId, version }, form) => ({
    href: `/api/session-sheets/${sheetId}`,
    body: { seen: version, day: form },
  }),
  versionName: 'seen',
  heldAt: ({ sheetId }) => `/api/session-sheets/${sheetId}`,
  heldIn: (body) =>
    isText(body.sheetId) && isNumber(body.seen) && isObject(body.day)
      ? serverDay(body as object as HeldSheet)
      : undefined,
  take: (now, held) => takenFromServer(now, held, DAY_NAMES),
  change: changeDay,
};

function isText(value: unknown): value is string {
  return typeof value === 'string';
}

function isNumber(value: unknown): value is number {
  return typeof value === 'number';
}

function isObject(value: unknown): value is object {
  return typeof value === 'object' && value !== null;
}
