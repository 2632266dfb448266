'use client';

import { type RefObject, useCallback, useEffect, useRef, useState } from 'react';
import { type AskedField, mergeForms, type Side, settled } from '@/lib/run/mergeForms';
import { RUN_FORM_NAMES, type RunForm } from '@/lib/run/runForm';
import { changedNames } from '../formValues';
import { dropCopy, keepCopy, readCopy } from './localCopy';
import { heldDraft, sendDraft } from './sendDraft';
import { type Autosave, type DraftPlace, useAutosave } from './useAutosave';

/** Both changed the same: what they came from, and what the server holds by now. */
export interface Torn {
  base: RunForm;
  theirs: RunForm;
  version: number;
}

export interface Draft extends Pick<Autosave, 'state' | 'values' | 'save' | 'hold' | 'resume'> {
  /** Call after anything in the form changed. */
  typed: () => void;
  /** The draft was changed elsewhere: brings both together, or asks. */
  reconcile: () => Promise<void>;
  /** Fields changed both here and elsewhere, each waiting for a choice. */
  asked: readonly AskedField[];
  settle: (choices: ReadonlyMap<string, Side>) => void;
  /** Fields that were taken over from elsewhere. */
  taken: readonly string[];
  /** A crash or a closed window left these; they were put back. */
  wasRestored: boolean;
}

/** Saves the form by itself a moment after typing stops, and keeps a copy in the browser until the server has it. */
export function useDraft(
  /** The same for as long as the form stands. */
  place: DraftPlace,
  version: number,
  starting: RunForm,
  formRef: RefObject<HTMLFormElement | null>,
  tornAtFirst?: Torn,
): Draft {
  const [torn, setTorn] = useState(tornAtFirst);
  const [taken, setTaken] = useState<readonly string[]>([]);
  const [wasRestored, setRestored] = useState(false);
  // What this window and the server last agreed on.
  const base = useRef(starting);
  const { key, names } = place;
  const opened = { version, isTorn: tornAtFirst !== undefined };
  const form = useAutosave(place, opened, starting, formRef, (event, sent) => {
    if (event.kind === 'saved') base.current = sent;
    if (now.current.status === 'saved') dropCopy(localStorage, key);
    // A conflict's copy names the version that it was typed over, so that a reload can tell.
    else if (formRef.current) keep(read());
    return event.kind === 'conflict' ? reconcile() : undefined;
  });
  const { now, act, read, take, put, values } = form;

  const keep = useCallback(
    (typed: RunForm) =>
      keepCopy(localStorage, key, { version: now.current.version, form: typed, base: base.current }),
    [now, key],
  );

  const typed = useCallback(() => {
    keep(take());
    act({ kind: 'typed' });
  }, [act, keep, take]);

  const takeMerged = useCallback(
    (both: RunForm, theirs: RunForm, theirVersion: number) => {
      base.current = theirs;
      setTorn(undefined);
      put(both);
      act({ kind: 'merged', version: theirVersion });
      keep(both);
    },
    [act, keep, put],
  );

  const bringTogether = useCallback(
    (mine: RunForm, theirs: RunForm, theirVersion: number) => {
      const merged = mergeForms(base.current, mine, theirs, names);
      if (merged.asked.length > 0) return setTorn({ base: base.current, theirs, version: theirVersion });
      setTaken(merged.taken);
      takeMerged(merged.form, theirs, theirVersion);
    },
    [takeMerged, names],
  );

  const reconcile = useCallback(async () => {
    const held = await place.held();
    if (held?.isEditable) bringTogether(read(), held.form, held.version);
  }, [bringTogether, read, place]);

  // Once, when the page has come alive: take up what this browser kept, or what was typed before the script ran.
  // biome-ignore lint/correctness/useExhaustiveDependencies: only what the page was opened with counts
  useEffect(() => {
    const later = form.takeSavedHere();
    if (later !== undefined && later.version > version && formRef.current !== null) base.current = later.form;
    const copy = readCopy(localStorage, key);
    if (copy === undefined || changedNames(copy.form, later?.form ?? starting, names).length === 0)
      return form.beginAfresh(later, typed);
    if (formRef.current === null) return;
    put(copy.form);
    if (copy.version === now.current.version) {
      setRestored(true);
      act({ kind: 'typed' });
    } else {
      act({ kind: 'conflict', message: 'This draft was changed elsewhere since it was typed here.' });
      const theirs = base.current;
      base.current = copy.base ?? {};
      bringTogether(copy.form, theirs, now.current.version);
    }
  }, []);

  const merged = torn === undefined ? undefined : mergeForms(torn.base, values, torn.theirs, names);
  return {
    state: form.state,
    values,
    typed,
    save: form.save,
    hold: form.hold,
    resume: form.resume,
    reconcile,
    asked: merged?.asked ?? [],
    settle: (choices) => {
      if (torn === undefined || merged === undefined) return;
      setTaken(merged.taken);
      takeMerged(settled(merged, choices), torn.theirs, torn.version);
    },
    taken,
    wasRestored,
  };
}

/** The draft of one run as its form sends and reads it. */
export function runPlace(runId: string): DraftPlace {
  return {
    key: runId,
    names: RUN_FORM_NAMES,
    send: (version, form) => sendDraft(runId, version, form),
    held: async () => {
      const held = await heldDraft(runId);
      return held && { version: held.draftVersion, form: held.form, isEditable: held.isEditable };
    },
  };
}
