'use client';

import { type RefObject, useCallback, useEffect, useRef, useState } from 'react';
import type { RunForm } from '@/lib/run/runForm';
import { type DraftEvent, type DraftState, draftAfter, draftOpened, maySave } from '../../[runId]/draftState';
import { fillForm } from '../../[runId]/fillForm';
import { dropCopy, keepCopy, type LocalCopy, readCopy } from '../../[runId]/localCopy';
import { changedNames, runFormOf } from '../../formValues';

const PAUSE_MS = 1200;
const RETRY_MS = 10_000;

/**
 * What this window saved last, by run. Going back in the browser shows a page as it was first read, with an older
 * version than the server has by then.
 */
const savedHere = new Map<string, LocalCopy>();

/** What a form on a page is a draft of: its key in the browser's storage, its fields, and how a version is sent. */
export interface DraftPlace {
  key: string;
  names: readonly string[];
  send: (version: number, form: RunForm) => Promise<DraftEvent>;
}

export interface SheetDraft {
  state: DraftState;
  values: RunForm;
  /** Call after anything in the form changed. */
  typed: () => void;
  /** Sends what is unsaved now; resolves when the server has answered. */
  save: () => Promise<DraftState>;
  /** A submission is on its way: nothing is saved beside it until `resume`. */
  hold: () => void;
  /** It came back without leading elsewhere; it kept the draft under this version. */
  resume: (version: number) => void;
  /** Values typed here over an older version, found again after a reload. */
  found: LocalCopy | undefined;
  takeFound: () => void;
  dropFound: () => void;
  /** A crash or a closed window left these; they were put back. */
  wasRestored: boolean;
}

/** Saves the form by itself a moment after typing stops, and keeps a copy in the browser until the server has it. */
export function useSheetDraft(
  /** The same for as long as the form stands. */
  place: DraftPlace,
  version: number,
  starting: RunForm,
  formRef: RefObject<HTMLFormElement | null>,
): SheetDraft {
  const { key, names } = place;
  const now = useRef(draftOpened(version));
  const [state, setState] = useState(now.current);
  const [values, setValues] = useState(starting);
  const [found, setFound] = useState<LocalCopy>();
  const [wasRestored, setRestored] = useState(false);
  const isChoosing = useRef(false);
  const sending = useRef<Promise<void>>(undefined);
  const isHeld = useRef(false);

  const act = useCallback((event: DraftEvent) => {
    now.current = draftAfter(now.current, event);
    setState(now.current);
  }, []);

  const read = useCallback(
    (): RunForm => (formRef.current === null ? {} : runFormOf(new FormData(formRef.current), names)),
    [formRef, names],
  );

  const typed = useCallback(() => {
    const form = read();
    setValues(form);
    if (!isChoosing.current) keepCopy(localStorage, key, { version: now.current.version, form });
    act({ kind: 'typed' });
  }, [act, read, key]);

  const save = useCallback(async (): Promise<DraftState> => {
    while (sending.current !== undefined) await sending.current;
    if (isHeld.current || !maySave(now.current) || formRef.current === null) return now.current;
    const form = read();
    act({ kind: 'saveStarted' });
    sending.current = place
      .send(now.current.version, form)
      .then((event) => {
        act(event);
        if (event.kind === 'saved') savedHere.set(key, { version: event.version, form });
        if (isChoosing.current) return;
        if (now.current.status === 'saved') dropCopy(localStorage, key);
        // A conflict's copy names the version that it was typed over, so that a reload can tell.
        else if (formRef.current) keepCopy(localStorage, key, { version: now.current.version, form: read() });
      })
      .finally(() => {
        sending.current = undefined;
      });
    await sending.current;
    return now.current;
  }, [act, formRef, read, key, place]);

  // Once, when the page has come alive: take up what this browser kept, or what was typed before the script ran.
  // biome-ignore lint/correctness/useExhaustiveDependencies: only what the page was opened with counts
  useEffect(() => {
    const later = savedHere.get(key);
    if (later !== undefined && later.version > version && formRef.current !== null) {
      fillForm(formRef.current, later.form, names);
      setValues(later.form);
      act({ kind: 'saved', version: later.version });
    }
    const copy = readCopy(localStorage, key);
    if (copy !== undefined && changedNames(copy.form, later?.form ?? starting, names).length > 0) {
      if (copy.version === now.current.version && formRef.current !== null) {
        fillForm(formRef.current, copy.form, names);
        setValues(copy.form);
        setRestored(true);
        act({ kind: 'typed' });
      } else {
        isChoosing.current = true;
        setFound(copy);
      }
      return;
    }
    dropCopy(localStorage, key);
    if (later === undefined && changedNames(read(), starting, names).length > 0) typed();
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

  const settleFound = (form: RunForm | undefined) => {
    isChoosing.current = false;
    setFound(undefined);
    dropCopy(localStorage, key);
    if (form === undefined || formRef.current === null) return;
    fillForm(formRef.current, form, names);
    setValues(form);
    keepCopy(localStorage, key, { version: now.current.version, form });
    act({ kind: 'typed' });
  };

  return {
    state,
    values,
    typed,
    save,
    hold: useCallback(() => {
      isHeld.current = true;
    }, []),
    resume: useCallback(
      (version: number) => {
        isHeld.current = false;
        act({ kind: 'moved', version });
      },
      [act],
    ),
    found,
    takeFound: () => settleFound(found?.form),
    dropFound: () => settleFound(undefined),
    wasRestored,
  };
}
