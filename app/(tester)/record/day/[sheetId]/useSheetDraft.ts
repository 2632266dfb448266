'use client';

import { type RefObject, useCallback, useEffect, useRef, useState } from 'react';
import type { RunForm } from '@/lib/run/runForm';
import { dropCopy, keepCopy, type LocalCopy, readCopy } from '../../[runId]/localCopy';
import { type Autosave, type DraftPlace, useAutosave } from '../../[runId]/useAutosave';
import { changedNames } from '../../formValues';

export interface SheetDraft extends Pick<Autosave, 'state' | 'values' | 'save' | 'hold' | 'resume'> {
  /** Call after anything in the form changed. */
  typed: () => void;
  /** Values typed here over an older version, found again after a reload. */
  found: LocalCopy | undefined;
  takeFound: () => void;
  dropFound: () => void;
  /** A crash or a closed window left these; they were put back. */
  wasRestored: boolean;
}

/** The day's sheet as a form that saves itself; what another window saved first is seen, and chosen, after a reload. */
export function useSheetDraft(
  place: DraftPlace,
  version: number,
  starting: RunForm,
  formRef: RefObject<HTMLFormElement | null>,
): SheetDraft {
  const { key, names } = place;
  const [found, setFound] = useState<LocalCopy>();
  const [wasRestored, setRestored] = useState(false);
  const isChoosing = useRef(false);
  const form = useAutosave(place, { version }, starting, formRef, () => {
    if (isChoosing.current) return;
    if (now.current.status === 'saved') dropCopy(localStorage, key);
    // A conflict's copy names the version that it was typed over, so that a reload can tell.
    else if (formRef.current) keep(read());
  });
  const { now, act, read, take, put } = form;

  const keep = useCallback(
    (typed: RunForm) => keepCopy(localStorage, key, { version: now.current.version, form: typed }),
    [now, key],
  );

  const typed = useCallback(() => {
    const values = take();
    if (!isChoosing.current) keep(values);
    act({ kind: 'typed' });
  }, [act, keep, take]);

  // Once, when the page has come alive: take up what this browser kept, or what was typed before the script ran.
  // biome-ignore lint/correctness/useExhaustiveDependencies: only what the page was opened with counts
  useEffect(() => {
    const later = form.takeSavedHere();
    const copy = readCopy(localStorage, key);
    if (copy === undefined || changedNames(copy.form, later?.form ?? starting, names).length === 0)
      return form.beginAfresh(later, typed);
    if (copy.version === now.current.version && formRef.current !== null) {
      put(copy.form);
      setRestored(true);
      act({ kind: 'typed' });
    } else {
      isChoosing.current = true;
      setFound(copy);
    }
  }, []);

  const settleFound = (chosen: RunForm | undefined) => {
    isChoosing.current = false;
    setFound(undefined);
    dropCopy(localStorage, key);
    if (chosen === undefined || formRef.current === null) return;
    put(chosen);
    keep(chosen);
    act({ kind: 'typed' });
  };

  return {
    state: form.state,
    values: form.values,
    typed,
    save: form.save,
    hold: form.hold,
    resume: form.resume,
    found,
    takeFound: () => settleFound(found?.form),
    dropFound: () => settleFound(undefined),
    wasRestored,
  };
}
