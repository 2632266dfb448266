'use client';

import { useActionState } from 'react';
import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import { FormFrame } from '@/app/ui/forms/FormFrame';
import { FormSection } from '@/app/ui/forms/FormSection';
import { type FormState, UNTOUCHED } from '@/app/ui/forms/formState';
import { TextInput } from '@/app/ui/forms/NumberFields';
import type { SetupChoices } from '@/lib/registry/cars/carChoices';
import { FACTORS } from '@/lib/run/factors';
import { TYRE_KINDS, USUAL_TYRE_KIND } from '@/lib/run/tyreKind';
import { addSetupFromForm } from './actions';
import { deliveredName, deliveredTyreKindName, levelName, newLevelName, tyreKindName } from './chosenLevels';

const ORDER = ['levelIds', ...FACTORS.map((factor) => deliveredName(factor.key))];

export function AddSetup({ choices, run }: { choices: SetupChoices; run: string | undefined }) {
  const [state, dispatch] = useActionState(addSetupFromForm, UNTOUCHED);
  return (
    <FormFrame
      label="Add a setup"
      state={state}
      dispatch={dispatch}
      submitText="Add the setup"
      order={ORDER}
      run={run}
    >
      <input type="hidden" name="modelId" value={choices.modelId} />
      <div id="levelIds" tabIndex={-1}>
        {choices.factors.map((factor) => (
          <FormSection key={factor.key} legend={factor.label}>
            <FactorFields factor={factor} state={state} />
          </FormSection>
        ))}
      </div>
    </FormFrame>
  );
}

interface FactorFieldsProps {
  factor: SetupChoices['factors'][number];
  state: FormState;
}

/** One factor: as delivered, at a level that is known, or at a new one. */
function FactorFields({ factor, state }: FactorFieldsProps) {
  const text = { state, maxLength: 80, autoComplete: 'off' } as const;
  const isTyre = factor.key === 'wheelTyre';
  return (
    <div className="grid items-start gap-x-10 gap-y-6 sm:grid-cols-2">
      <ChoiceField
        name={levelName(factor.key)}
        label={`${factor.label}: level`}
        emptyLabel={factor.delivered ? `As delivered: ${factor.delivered}` : 'As delivered'}
        options={factor.levels.map((level) => ({ value: level.id, label: level.label }))}
        defaultValue={state.values[levelName(factor.key)] ?? ''}
      />
      <TextInput
        {...text}
        name={newLevelName(factor.key)}
        label={`${factor.label}: new level`}
        hint="Where it is not in the list; as the setting is called in this car."
      />
      {isTyre ? <TyreKind name={tyreKindName} label="Kind of the new tyre" state={state} /> : null}
      {factor.delivered === undefined ? (
        <TextInput
          {...text}
          name={deliveredName(factor.key)}
          label={`${factor.label}: level as delivered`}
          hint="Needed with the first new level: what the new one differs from."
        />
      ) : null}
      {isTyre && factor.delivered === undefined ? (
        <TyreKind name={deliveredTyreKindName} label="Kind of the delivered tyre" state={state} />
      ) : null}
    </div>
  );
}

function TyreKind({ name, label, state }: { name: string; label: string; state: FormState }) {
  return (
    <ChoiceField
      name={name}
      label={label}
      kind="radio"
      inline
      hint="Sets the rolling resistance that is assumed."
      options={TYRE_KINDS}
      defaultValue={state.values[name] ?? USUAL_TYRE_KIND}
    />
  );
}
