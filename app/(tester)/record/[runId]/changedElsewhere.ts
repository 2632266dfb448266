import { registry } from '@/app/visitor/registry';
import { serverDraft } from '@/lib/registry/runs/fieldCard';
import { saveDraft } from '@/lib/registry/runs/saveDraft';
import { askedAgain, mergeForms, type Side, settled } from '@/lib/run/mergeForms';
import type { Actor } from '@/lib/run/roles';
import { RUN_FORM_NAMES, type RunForm } from '@/lib/run/runForm';
import { choiceName } from '../AskedFields';
import { runFormOf } from '../formValues';
import type { SentRun } from './sentRun';

/** What the posted form was made from: what the server held when the page was read. */
export function baseOf(data: FormData): RunForm {
  const base = jsonOf(data.get('base'));
  if (typeof base !== 'object' || base === null) return {};
  return Object.fromEntries(
    Object.entries(base).filter((entry): entry is [string, string] => typeof entry[1] === 'string'),
  );
}

/** What a posted form is a draft of: its fields, what the server holds of them by now, and how it is saved over that. */
export interface PostedPlace {
  names: readonly string[];
  held: () => Promise<{ version: number; form: RunForm; isEditable: boolean }>;
  /** Gives the new version. */
  save: (version: number, form: RunForm) => Promise<number>;
}

/** The draft of one run. */
export function postedRun(actor: Actor | undefined, runId: string): PostedPlace {
  return {
    names: RUN_FORM_NAMES,
    held: async () => {
      const { draftVersion: version, form, isEditable } = await serverDraft(registry(), actor, runId);
      return { version, form, isEditable };
    },
    save: async (draftVersion, form) =>
      (await saveDraft(registry(), actor, { runId, draftVersion, form })).draftVersion,
  };
}

/** The posted form with the choices that were asked for; where one is missing, what has to be asked again. */
export function answeredForm(
  data: FormData,
  version: number,
  names: readonly string[] = RUN_FORM_NAMES,
): {
  form: RunForm;
  stillOpen?: Omit<SentRun, 'form' | 'draftVersion'>;
} {
  const form = runFormOf(data, names);
  const wereAsked = jsonOf(data.get('asked'));
  const theirs = baseOf(data);
  const asked = Array.isArray(wereAsked) ? askedAgain(wereAsked.map(String), form, theirs, names) : [];
  const choices = new Map<string, Side>();
  for (const { name } of asked) {
    const side = data.get(choiceName(name));
    if (side === 'mine' || side === 'theirs') choices.set(name, side);
  }
  const open = asked.filter(({ name }) => !choices.has(name));
  const answered = settled({ form, asked: asked.filter((one) => !open.includes(one)) }, choices);
  if (open.length === 0) return { form: answered };
  const missing = open.map(({ name }) => name);
  const base = { ...answered, ...Object.fromEntries(missing.map((name) => [name, NEITHER])) };
  const theirsChosen = new Map(missing.map((name) => [name, 'theirs'] as const));
  return {
    form: answered,
    stillOpen: {
      title: 'A choice is missing. Nothing was saved yet.',
      issues: [],
      values: {},
      wasElsewhere: true,
      torn: {
        base,
        theirs: settled({ form: answered, asked: open }, theirsChosen),
        version,
      },
      missing,
    },
  };
}

/** In place of what both came from, where all that is known is that each holds something else. */
const NEITHER = '(neither)';

/**
 * A draft that was changed elsewhere, merged with what was posted: saved where each field was changed on one side only,
 * else handed back with what has to be chosen. Undefined where the run can be changed no more.
 */
export async function broughtTogether(
  place: PostedPlace,
  form: RunForm,
  base: RunForm,
): Promise<SentRun | undefined> {
  const { version, form: theirs, isEditable } = await place.held();
  if (!isEditable) return undefined;
  const merged = mergeForms(base, form, theirs, place.names);
  const none = { issues: [], values: {}, wasElsewhere: true };
  if (merged.asked.length > 0) {
    return {
      ...none,
      title: 'The same field was changed here and elsewhere.',
      form: merged.form,
      draftVersion: version,
      torn: { base, theirs, version },
    };
  }
  return {
    ...none,
    title:
      'This draft was changed elsewhere too. Both are in the form now and saved: look at it, then go on.',
    form: merged.form,
    draftVersion: await place.save(version, merged.form),
  };
}

function jsonOf(text: FormDataEntryValue | null): unknown {
  try {
    return typeof text === 'string' ? JSON.parse(text) : undefined;
  } catch {
    return undefined;
  }
}
