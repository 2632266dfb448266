import { useState } from 'react';
import type { Side } from '@/lib/run/mergeForms';
import { choiceName } from '../AskedFields';
import type { Draft } from './useDraft';

export interface Choices {
  choices: ReadonlyMap<string, Side>;
  /** Fields without an answer that was wanted. */
  missing: readonly string[];
  onChoose: (field: string, side: Side) => void;
  /** Takes the answers over, or leads to the first that is missing. */
  settle: () => void;
}

/** The answers to what was changed in two places, until they are taken over. */
export function useChoices(
  draft: Pick<Draft, 'asked' | 'settle'>,
  missingAtFirst: readonly string[] = [],
  /** Of the control of a field. */
  idOf: (name: string) => string = (name) => name,
): Choices {
  const [choices, setChoices] = useState<ReadonlyMap<string, Side>>(new Map());
  const [missing, setMissing] = useState(missingAtFirst);
  const settle = () => {
    const names = draft.asked.map(({ name }) => name);
    const open = names.filter((name) => !choices.has(name));
    setMissing(open);
    if (open[0] !== undefined) return document.getElementById(choiceName(open[0]))?.focus();
    draft.settle(choices);
    setChoices(new Map());
    document.getElementById(idOf(names[0] ?? ''))?.focus();
  };
  return {
    choices,
    missing,
    onChoose: (field, side) => setChoices((now) => new Map(now).set(field, side)),
    settle,
  };
}
