'use client';

import { useActionState } from 'react';
import { ChoiceField } from '@/app/ui/ChoiceField';
import { FormSection } from '@/app/ui/FormSection';
import type { SetupChoices } from '@/lib/registry/views/myCars';
import { TextInput } from '../../../FormFields';
import { FormFrame } from '../../../FormFrame';
import { UNTOUCHED } from '../../../formState';
import { addSetupFromForm } from './actions';
import { levelName, newLevelName, tyreKindName } from './chosenLevels';

export function AddSetup({ choices, run }: { choices: SetupChoices; run: string | undefined }) {
  const [state, dispatch] = useActionState(addSetupFromForm, UNTOUCHED);
  return (
    <FormFrame label="Add a setup" state={state} dispatch={dispatch} submitText="Add the setup" run={run}>
      <input type="hidden" name="modelId" value={choices.modelId} />
      <div id="levelIds" tabIndex={-1}>
        {choices.factors.map((factor) => (
          <FormSection key={factor.key} legend={factor.label}>
            <div className="grid items-start gap-x-10 gap-y-6 sm:grid-cols-2">
              <ChoiceField
                name={levelName(factor.key)}
                label={`${factor.label}: level`}
                emptyLabel="As delivered, or not said"
                options={factor.levels.map((level) => ({ value: level.id, label: level.label }))}
                defaultValue={state.values[levelName(factor.key)] ?? ''}
              />
              <TextInput
                state={state}
                name={newLevelName(factor.key)}
                label={`${factor.label}: new level`}
                maxLength={80}
                autoComplete="off"
                hint="Where it is not in the list; as the setting is called in this car."
              />
              {factor.key === 'wheelTyre' ? (
                <ChoiceField
                  name={tyreKindName}
                  label="Kind of the new tyre"
                  kind="radio"
                  inline
                  hint="Sets the rolling resistance that is assumed."
                  options={[
                    { value: 'road', label: 'Road' },
                    { value: 'allTerrain', label: 'All-terrain' },
                  ]}
                  defaultValue={state.values[tyreKindName] ?? 'road'}
                />
              ) : null}
            </div>
          </FormSection>
        ))}
      </div>
    </FormFrame>
  );
}
