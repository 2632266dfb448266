import { changedNames } from '@/app/(tester)/record/formValues';
import { type MergedForms, mergeForms, type Side, settled } from '@/lib/run/mergeForms';
import type { RunForm } from '@/lib/run/runForm';

/** What the server is known to hold of something. */
export interface HeldForm {
  version: number;
  form: RunForm;
}

/** Something that is typed on a phone and kept there, with what it knows of the server's copy: a run, or a day's sheet. */
export interface KeptForm {
  /** Made once on the phone: however often it is sent, it is one. */
  key: string;
  accountId: string;
  createdAtMs: number;
  form: RunForm;
  server?: HeldForm | undefined;
  /** What was sent and not answered yet: it is sent again as it was, and a lost answer is recognised by it. */
  underway?: RunForm | undefined;
  /**
   * The server's version where the same fields were changed elsewhere, and what both came from; nothing is sent until
   * the tester has chosen.
   */
  conflict?: (HeldForm & { isEditable: boolean; base?: RunForm | undefined }) | undefined;
  /** Fields that were changed elsewhere and taken over, to be told. */
  taken?: readonly string[] | undefined;
  /** What the server said when it would not take the form; sending waits for a change. */
  refusal?: { message: string; form: RunForm } | undefined;
}

export type ServerOf<Kept extends KeptForm> = NonNullable<Kept['server']>;

/** What the server answers about something: what it holds, and whether that may still be changed. */
export interface Held<Kept extends KeptForm> {
  server: ServerOf<Kept>;
  isEditable: boolean;
}

/** One field changed. */
export function typed<Kept extends { form: RunForm }>(kept: Kept, name: string, value: string): Kept {
  return { ...kept, form: { ...kept.form, [name]: value } };
}

export function isSameForm(a: RunForm, b: RunForm, names?: readonly string[]): boolean {
  return changedNames(a, b, names).length === 0;
}

/** The server has answered with what it holds now. */
export function serverHolds<Kept extends KeptForm>(kept: Kept, server: ServerOf<Kept>): Kept {
  return { ...kept, underway: undefined, server };
}

/**
 * The server holds a change that was made elsewhere. Other fields than the phone's are taken over; where both changed
 * the same one, or it can be changed no more, the tester has to choose.
 */
export function changedElsewhere<Kept extends KeptForm>(
  kept: Kept,
  { server, isEditable }: Held<Kept>,
  base: RunForm,
  names?: readonly string[],
): Kept {
  const { version, form } = server;
  const held = serverHolds(kept, server);
  const merged = mergeForms(base, kept.form, form, names);
  if (!isEditable || merged.asked.length > 0) {
    return { ...held, conflict: { version, form, isEditable, base } };
  }
  return { ...held, form: merged.form, taken: merged.taken };
}

/**
 * The server tells what it holds. If that is what the phone sent last, an answer had got lost on the way; if it is
 * neither that nor what it held before, somebody changed it elsewhere.
 */
export function takenFromServer<Kept extends KeptForm>(
  kept: Kept,
  held: Held<Kept>,
  names?: readonly string[],
): Kept {
  const now = { ...kept, refusal: undefined };
  const { server, isEditable } = held;
  const known = [kept.underway, kept.server?.form].filter((form) => form !== undefined);
  const isOurs = isEditable && known.some((form) => isSameForm(form, server.form, names));
  if (isOurs || isSameForm(kept.form, server.form, names)) return serverHolds(now, server);
  // What both came from: what the server last said, for whether the last sending arrived is not known.
  return changedElsewhere(now, held, kept.server?.form ?? kept.underway ?? {}, names);
}

/** What the tester is asked about this conflict by what the phone holds now; nothing of what is closed. */
export function askedOf(kept: KeptForm, names?: readonly string[]): MergedForms {
  const { form = {}, base = {} } = kept.conflict ?? {};
  return mergeForms(base, kept.form, form, names);
}

/** The tester has chosen, field by field; what can be changed no more is taken as the server holds it. */
export function conflictSettled<Kept extends KeptForm>(
  kept: Kept,
  choices: ReadonlyMap<string, Side>,
  names?: readonly string[],
): Kept {
  const { conflict, server } = kept;
  if (conflict === undefined || server === undefined) return kept;
  const { version, form, isEditable } = conflict;
  return {
    ...kept,
    conflict: undefined,
    form: isEditable ? settled(askedOf(kept, names), choices) : { ...form },
    server: { ...server, version, form },
  };
}
