import type { FormState } from '@/app/ui/forms/formState';
import { TextInput } from '@/app/ui/forms/NumberFields';

/** Why something is put right: what a reviewer decides by. */
export function ReasonField({ state }: { state: FormState }) {
  return (
    <TextInput
      state={state}
      name="reason"
      label="What was wrong, and how you know"
      hint="A reviewer decides by it. Once approved it stands beside every run that it touches, for everybody to read."
      multiline
      rows={3}
      required
      maxLength={2000}
    />
  );
}
