'use client';

import { Disclosure } from '@/app/ui/Disclosure';
import { ActionForm } from '@/app/ui/forms/ActionForm';
import { OneButtonForm } from '@/app/ui/forms/OneButtonForm';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { TextField } from '@/app/ui/forms/TextField';
import { holdAgainst, map, name, remove, rename } from './actions';

interface MapFormProps {
  levelId: string;
  /** "Low of Tolvane Godwit": names the choice for those who do not see the row. */
  levelName: string;
  seenId: string | null;
  /** Chosen beforehand where nothing is mapped; pressing the button is the steward's. */
  suggestedId: string | undefined;
  options: readonly { id: string; words: string }[];
}

export function MapForm({ levelId, levelName, seenId, suggestedId, options }: MapFormProps) {
  return (
    <OneButtonForm action={map} className="gap-2">
      <input type="hidden" name="levelId" value={levelId} />
      <input type="hidden" name="seenId" value={seenId ?? ''} />
      <select
        // A mapping that changed is shown as it is now, and so is a suggestion that was named a moment ago.
        key={`${seenId ?? ''} ${suggestedId ?? ''}`}
        name="sharedLevelId"
        defaultValue={seenId ?? suggestedId ?? ''}
        aria-label={`Shared level for ${levelName}`}
        className="min-h-9 border border-rule-strong bg-paper px-2"
      >
        <option value="">none</option>
        {options.map(({ id, words }) => (
          <option key={id} value={id}>
            {words}
          </option>
        ))}
      </select>
      <SubmitButton variant="secondary">
        Map<span className="sr-only"> {levelName}</span>
      </SubmitButton>
    </OneButtonForm>
  );
}

interface OfFactor {
  world: string;
  factor: string;
}

export function NameForm({ world, factor }: OfFactor) {
  return (
    <ActionForm action={name} label="Name a shared level">
      {({ value, error }) => (
        <>
          <input type="hidden" name="world" value={world} />
          <input type="hidden" name="factor" value={factor} />
          <TextField
            name="words"
            label="Name of a shared level"
            hint="As readers see it beside all models, for example “Low”. The first of a factor is what the others are held against."
            required
            maxLength={60}
            defaultValue={value('words')}
            error={error('words')}
          />
          <SubmitButton variant="secondary">Name it</SubmitButton>
        </>
      )}
    </ActionForm>
  );
}

/** One that names of levels suggest, by one press. */
export function NameSuggestedForm({ world, factor, words }: OfFactor & { words: string }) {
  return (
    <OneButtonForm action={name} className="gap-2">
      <input type="hidden" name="world" value={world} />
      <input type="hidden" name="factor" value={factor} />
      <input type="hidden" name="words" value={words} />
      <SubmitButton variant="secondary">Name “{words}”</SubmitButton>
    </OneButtonForm>
  );
}

export function BaselineForm({
  seenId,
  sharedLevelId,
  words,
}: {
  seenId: string;
  sharedLevelId: string;
  words: string;
}) {
  return (
    <OneButtonForm action={holdAgainst} className="gap-2">
      <input type="hidden" name="seenId" value={seenId} />
      <input type="hidden" name="sharedLevelId" value={sharedLevelId} />
      <SubmitButton variant="secondary">
        Hold the others against it<span className="sr-only">: {words}</span>
      </SubmitButton>
    </OneButtonForm>
  );
}

interface ChangeProps {
  sharedLevelId: string;
  words: string;
  mapped: number;
  /** The others are held against it, so that it goes last. */
  isHeldAgainst: boolean;
}

/** Another name for a shared level, or none of it any more. */
export function ChangeForms({ sharedLevelId, words, mapped, isHeldAgainst }: ChangeProps) {
  return (
    <Disclosure
      title={
        <>
          Rename or remove<span className="sr-only"> {words}</span>
        </>
      }
    >
      <div className="mt-2 space-y-4 text-left">
        <ActionForm action={rename} label={`Rename ${words}`}>
          {({ value, error }) => (
            <>
              <input type="hidden" name="sharedLevelId" value={sharedLevelId} />
              <input type="hidden" name="seenWords" value={words} />
              <TextField
                name="words"
                label={`Another name for “${words}”`}
                required
                maxLength={60}
                defaultValue={value('words', words)}
                error={error('words')}
              />
              <SubmitButton variant="secondary">Rename it</SubmitButton>
            </>
          )}
        </ActionForm>
        {isHeldAgainst ? (
          <p>To remove it, hold the others against another one first.</p>
        ) : (
          <div>
            <p className="mb-2">{removalText(mapped)}</p>
            <OneButtonForm action={remove} className="gap-2">
              <input type="hidden" name="sharedLevelId" value={sharedLevelId} />
              <input type="hidden" name="seenMapped" value={mapped} />
              <SubmitButton variant="secondary">
                Remove it<span className="sr-only">: {words}</span>
              </SubmitButton>
            </OneButtonForm>
          </div>
        )}
      </div>
    </Disclosure>
  );
}

function removalText(mapped: number): string {
  if (mapped === 0) return 'Nothing is mapped to it.';
  return mapped === 1
    ? 'The one level that is mapped to it is mapped to none then.'
    : `The ${mapped} levels that are mapped to it are mapped to none then.`;
}
