import { CheckField } from '@/app/ui/forms/CheckField';
import type { FormState } from '@/app/ui/forms/formState';
import { TextInput } from '@/app/ui/forms/NumberFields';

/** What a model's data sheet says beside its numbers. */
export function ModelSheetFields({ state }: { state: FormState }) {
  return (
    <>
      <TextInput
        state={state}
        name="dragAreaSource"
        label="Source of the drag area"
        hint="Needed where you enter one."
        maxLength={300}
      />
      <CheckField
        name="hasHeatPump"
        label="Has a heat pump"
        hint="Sets the assumed power for heating."
        defaultChecked={state.values.hasHeatPump === 'yes'}
      />
    </>
  );
}
