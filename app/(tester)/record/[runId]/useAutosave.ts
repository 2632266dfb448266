import { type RefObject, useCallback, useEffect, useRef, useState } from 'react';
import type { RunForm } from '@/lib/run/runForm';
import { changedNames, runFormOf } from '../formValues';
import { type DraftEvent, type DraftState, draftAfter, draftOpened, maySave } from './draftState';
import { fillForm } from './fillForm';
import { dropCopy, type LocalCopy } from './localCopy';

const PAUSE_MS = 1200;
const RETRY_MS = 10_000;

/**
 * What this window saved last, by draft. Going back in the browser shows a page as it was first read, with an older
 * version than the server has by then.
 */
const savedHere = new Map<string, LocalCopy>();

/** What a form on a page is a draft of: its key in the browser's storage, its fields, and how a version is sent. */
export interface DraftPlace {
  key: string;
  names: readonly string[];
  send: (version: number, form: RunForm) => Promise<DraftEvent>;
  /** What the server holds of it by now; undefined where it cannot be learnt. */
  held: () => Promise<HeldForm | undefined>;
}

interface HeldForm {
  version: number;
  form: RunForm;
  isEditable: boolean;
}

/** A form that saves itself a moment after typing stops. What to do when another window saved first is its owner's. */
export interface Autosave {
  state: DraftState;
  values: RunForm;
  /** The state as it is between two drawings of the page. */
  now: RefObject<DraftState>;
  act: (event: DraftEvent) => void;
  /** What stands in the fields. */
  read: () => RunForm;
  /** Takes over what stands in the fields. */
  take: () => RunForm;
  /** Puts other values into the fields. */
  put: (form: RunForm) => void;
  /** Sends what is unsaved now; resolves when the server has answered. */
  save: () => Promise<DraftState>;
  /** What this window saved last, put into the fields where the page was read before. */
  takeSavedHere: () => LocalCopy | undefined;
  /** Nothing was kept: only what was typed before the script ran is new. */
  beginAfresh: (later: LocalCopy | undefined, typed: () => void) => void;
  /** A submission is on its way: nothing is saved beside it until `resume`. */
  hold: () => void;
  /** It came back without leading elsewhere; it kept the draft under this version, or none. */
  resume: (version: number | undefined) => void;
}

export function useAutosave(
  /** The same for as long as the form stands. */
  { key, names, send }: DraftPlace,
  opened: { version: number; isTorn?: boolean },
  starting: RunForm,
  formRef: RefObject<HTMLFormElement | null>,
  /** What has to be kept or settled after the server has answered. */
  answered: (event: DraftEvent, form: RunForm) => Promise<void> | void,
): Autosave {
  const now = useRef(draftOpened(opened.version, opened.isTorn));
  const [state, setState] = useState(now.current);
  const [values, setValues] = useState(starting);
  const sending = useRef<Promise<void>>(undefined);
  const isHeld = useRef(false);
  const onAnswer = useRef(answered);
  useEffect(() => {
    onAnswer.current = answered;
  });

  const act = useCallback((event: DraftEvent) => {
    now.current = draftAfter(now.current, event);
    setState(now.current);
  }, []);

  const read = useCallback(
    (): RunForm => (formRef.current === null ? {} : runFormOf(new FormData(formRef.current), names)),
    [formRef, names],
  );

  const take = useCallback(() => {
    const form = read();
    setValues(form);
    return form;
  }, [read]);

  const put = useCallback(
    (form: RunForm) => {
      if (formRef.current !== null) fillForm(formRef.current, form, names);
      setValues(form);
    },
    [formRef, names],
  );

  const save = useCallback(async (): Promise<DraftState> => {
    while (sending.current !== undefined) await sending.current;
    if (isHeld.current || !maySave(now.current) || formRef.current === null) return now.current;
    const form = read();
    act({ kind: 'saveStarted' });
    sending.current = send(now.current.version, form)
      .then((event) => {
        act(event);
        if (event.kind === 'saved') savedHere.set(key, { version: event.version, form });
        return onAnswer.current(event, form);
      })
      .finally(() => {
        sending.current = undefined;
      });
    await sending.current;
    return now.current;
  }, [act, formRef, read, send, key]);

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

  return {
    state,
    values,
    now,
    act,
    read,
    take,
    put,
    save,
    takeSavedHere: () => {
      const later = savedHere.get(key);
      if (later !== undefined && later.version > opened.version && formRef.current !== null) {
        put(later.form);
        act({ kind: 'saved', version: later.version });
      }
      return later;
    },
    beginAfresh: (later, typed) => {
      dropCopy(localStorage, key);
      if (later === undefined && changedNames(read(), starting, names).length > 0) typed();
    },
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
  };
}
