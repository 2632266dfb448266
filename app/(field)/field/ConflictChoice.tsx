import { useEffect, useRef, useState } from 'react';
import { AskedFields, choiceName } from '@/app/(tester)/record/AskedFields';
import { nameOfChosen } from '@/app/(tester)/record/chosenName';
import { Button } from '@/app/ui/Button';
import { Notice } from '@/app/ui/Notice';
import type { FieldLists } from '@/lib/registry/runs/fieldCard';
import type { Side } from '@/lib/run/mergeForms';
import { askedOf, type KeptForm } from './keptForm';
import { focusStep } from './StepHeading';

interface ConflictChoiceProps {
  kept: KeptForm;
  /** Of the form, where it is not a run's own. */
  names?: readonly string[];
  lists: FieldLists | undefined;
  onSettle: (choices: ReadonlyMap<string, Side>) => void;
}

/** The fields that were changed in two places, one by one; nothing is sent or replaced before each has its answer. */
export function ConflictChoice({ kept, names, lists, onSettle }: ConflictChoiceProps) {
  const box = useRef<HTMLDivElement>(null);
  const [choices, setChoices] = useState<ReadonlyMap<string, Side>>(new Map());
  const [missing, setMissing] = useState<ReadonlySet<string>>(new Set());
  useEffect(() => {
    box.current?.scrollIntoView({ block: 'start' });
  }, []);
  const isEditable = kept.conflict?.isEditable ?? false;
  const { asked } = askedOf(kept, names);
  const settle = () => {
    const open = isEditable ? asked.map(({ name }) => name).filter((name) => !choices.has(name)) : [];
    setMissing(new Set(open));
    if (open[0] !== undefined) return document.getElementById(choiceName(open[0]))?.focus();
    onSettle(choices);
    focusStep();
  };
  return (
    <div ref={box} className="scroll-mt-2">
      <Notice
        kind="problem"
        title={
          isEditable
            ? 'The same field was changed here and elsewhere. Which one holds?'
            : 'This run has been submitted from elsewhere and can no longer be changed here.'
        }
        live
      >
        {isEditable ? (
          <AskedFields
            asked={asked}
            here="on this phone"
            nameOf={(name, id) => nameOfChosen(name, id, lists)}
            size="field"
            missing={missing}
            choices={choices}
            onChoose={(name, side) => setChoices((now) => new Map(now).set(name, side))}
          />
        ) : null}
        <Button size="field" onClick={settle}>
          {isEditable ? 'Use what is chosen' : 'Use what the server holds'}
        </Button>
      </Notice>
    </div>
  );
}
