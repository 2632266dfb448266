'use client';

import { type RefObject, useCallback, useEffect, useRef, useState } from 'react';
import { type AskedField, mergeForms, type Side, settled } from '@/lib/run/mergeForms';
import type { RunForm } from '@/lib/run/runForm';
import { changedNames, runFormOf } from '../formValues';
import { type DraftEvent, type DraftState, draftAfter, draftOpened, maySave } from './draftState';
import { fillForm } from './fillForm';
import { dropCopy, keepCopy, type LocalCopy, readCopy } from './localCopy';
import { heldDraft, sendDraft } from './sendDraft';

/** Both changed the same: what they came from, and what the server holds by now. */
export interface Torn {
  base: RunForm;
  theirs: RunForm;
  version: number;
}

const PAUSE_MS = 1200;
const RETRY_MS = 10_000;

/**
 * What this window saved last, by run. Going back in the browser shows a page as it was first read, with an older
 * version than the server has by then.
 */
const savedHere = new Map<string, LocalCopy>();

export interface Draft {
  state: DraftState;
  values: RunForm;
  /** Call after anything in the form changed. */
  typed: () => void;
  /** Sends what is unsaved now; resolves when the server has answered. */
  save: () => Promise<DraftState>;
  /** A submission is on its way: nothing is saved beside it until `resume`. */
  hold: () => void;
  /** It came back without leading elsewhere; it kept the draft under this version, or none. */
  resume: (version: number | undefined) => void;
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
  runId: string,
  version: number,
  starting: RunForm,
  formRef: RefObject<HTMLFormElement | null>,
  tornAtFirst?: Torn,
): Draft {
  const now = useRef(draftOpened(version, tornAtFirst !== undefined));
  const [state, setState] = useState(now.current);
  const [values, setValues] = useState(starting);
  const [torn, setTorn] = useState(tornAtFirst);
  const [taken, setTaken] = useState<readonly string[]>([]);
  const [wasRestored, setRestored] = useState(false);
  // What this window and the server last agreed on.
  const base = useRef(starting);
  const sending = useRef<Promise<void>>(undefined);
  const isHeld = useRef(false);

  const act = useCallback((event: DraftEvent) => {
    now.current = draftAfter(now.current, event);
    setState(now.current);
  }, []);

  const read = useCallback(
    (): RunForm => (formRef.current === null ? {} : runFormOf(new FormData(formRef.current))),
    [formRef],
  );

  const typed = useCallback(() => {
    const form = read();
    setValues(form);
    keepCopy(localStorage, runId, { version: now.current.version, form, base: base.current });
    act({ kind: 'typed' });
  }, [act, read, runId]);

  const takeMerged = useCallback(
    (form: RunForm, theirs: RunForm, theirVersion: number) => {
      base.current = theirs;
      setTorn(undefined);
      if (formRef.current !== null) fillForm(formRef.current, form);
      setValues(form);
      keepCopy(localStorage, runId, { version: theirVersion, form, base: theirs });
      act({ kind: 'merged', version: theirVersion });
    },
    [act, formRef, runId],
  );

  const bringTogether = useCallback(
    (mine: RunForm, theirs: RunForm, theirVersion: number) => {
      const merged = mergeForms(base.current, mine, theirs);
      if (merged.asked.length > 0) return setTorn({ base: base.current, theirs, version: theirVersion });
      setTaken(merged.taken);
      takeMerged(merged.form, theirs, theirVersion);
    },
    [takeMerged],
  );

  const reconcile = useCallback(async () => {
    const held = await heldDraft(runId);
    if (held?.isEditable) bringTogether(read(), held.form, held.draftVersion);
  }, [bringTogether, read, runId]);

  const save = useCallback(async (): Promise<DraftState> => {
    while (sending.current !== undefined) await sending.current;
    if (isHeld.current || !maySave(now.current) || formRef.current === null) return now.current;
    const form = read();
    act({ kind: 'saveStarted' });
    sending.current = sendDraft(runId, now.current.version, form)
      .then((event) => {
        act(event);
        if (event.kind === 'saved') {
          savedHere.set(runId, { version: event.version, form });
          base.current = form;
        }
        if (now.current.status === 'saved') dropCopy(localStorage, runId);
        // A conflict's copy names the version that it was typed over, so that a reload can tell.
        else if (formRef.current)
          keepCopy(localStorage, runId, {
            version: now.current.version,
            form: read(),
            base: base.current,
          });
        return event.kind === 'conflict' ? reconcile() : undefined;
      })
      .finally(() => {
        sending.current = undefined;
      });
    await sending.current;
    return now.current;
  }, [act, formRef, read, reconcile, runId]);

  // Once, when the page has come alive: take up what this browser kept, or what was typed before the script ran.
  // biome-ignore lint/correctness/useExhaustiveDependencies: only what the page was opened with counts
  useEffect(() => {
    const later = savedHere.get(runId);
    if (later !== undefined && later.version > version && formRef.current !== null) {
      fillForm(formRef.current, later.form);
      setValues(later.form);
      base.current = later.form;
      act({ kind: 'saved', version: later.version });
    }
    const copy = readCopy(localStorage, runId);
    if (copy !== undefined && changedNames(copy.form, later?.form ?? starting).length > 0) {
      if (formRef.current === null) return;
      fillForm(formRef.current, copy.form);
      setValues(copy.form);
      if (copy.version === now.current.version) {
        setRestored(true);
        act({ kind: 'typed' });
      } else {
        act({ kind: 'conflict', message: 'This draft was changed elsewhere since it was typed here.' });
        const theirs = base.current;
        base.current = copy.base ?? {};
        bringTogether(copy.form, theirs, now.current.version);
      }
      return;
    }
    dropCopy(localStorage, runId);
    if (later === undefined && changedNames(read(), starting).length > 0) typed();
  }, []);

  // biome-ignore lint/correctness/useExhaustiveDependencies: typing on starts the pause anew
  useEffect(() => {
    if (state.status !== 'unsaved' && state.status !== 'unreachable') return;
    const timer = setTimeout(save, state.status === 'unsaved' ? PAUSE_MS : RETRY_MS);
    return () => clearTimeout(timer);
  }, [state, values, save]);

  useEffect(() => {
    const saveWhenHidden = () => {
      if (document.visibilityState === 'hidden') void save();
    };
    document.addEventListener('visibilitychange', saveWhenHidden);
    window.addEventListener('online', save);
    return () => {
      document.removeEventListener('visibilitychange', saveWhenHidden);
      window.removeEventListener('online', save);
    };
  }, [save]);

  const merged = torn === undefined ? undefined : mergeForms(torn.base, values, torn.theirs);
  return {
    state,
    values,
    typed,
    save,
    hold: useCallback(() => {
      isHeld.current = true;
    }, []),
    resume: useCallback(
      (version: number | undefined) => {
        isHeld.current = false;
        if (version !== undefined) act({ kind: 'moved', version });
      },
      [act],
    ),
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
