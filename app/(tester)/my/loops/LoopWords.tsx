import type { FormState } from '@/app/ui/forms/formState';
import { TextInput } from '@/app/ui/forms/NumberFields';

/** What a loop is called and how it is found, whichever way its numbers come. */
export function LoopWords({ state }: { state: FormState }) {
  return (
    <>
      <div className="grid items-start gap-x-10 gap-y-6 sm:grid-cols-2">
        <TextInput
          state={state}
          name="name"
          label="Name"
          required
          maxLength={80}
          hint="Runs are listed under it. Leave your home out of it."
        />
        <TextInput state={state} name="region" label="Region" required maxLength={80} />
      </div>
      <TextInput
        state={state}
        name="turnaround"
        label="Turnaround"
        required
        maxLength={120}
        hint="The junction at which the way back begins."
      />
      <TextInput
        state={state}
        name="description"
        label="Description"
        multiline
        maxLength={2000}
        hint="Where it starts, which lanes, what to watch for: others repeat what is written here."
      />
    </>
  );
}
