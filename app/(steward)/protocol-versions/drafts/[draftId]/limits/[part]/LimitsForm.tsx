'use client';

import { useActionState } from 'react';
import { CheckField } from '@/app/ui/forms/CheckField';
import { FormFrame } from '@/app/ui/forms/FormFrame';
import { UNTOUCHED } from '@/app/ui/forms/formState';
import { saveLimits } from '../../../actions';
import { LimitFields, type ShownLimit } from './LimitFields';

export type { ShownLimit };

interface LimitsFormProps {
  draftId: string;
  revision: number;
  part: string;
  rules: readonly {
    id: string;
    title: string;
    why: string;
    name: string;
    isIn: boolean;
    isAlwaysIn: boolean;
    limits: readonly ShownLimit[];
  }[];
  /** Of no rule. */
  limits: readonly ShownLimit[];
}

/** All rules of a part with their limits, saved together. Works without scripts. */
export function LimitsForm({ draftId, revision, part, rules, limits }: LimitsFormProps) {
  const [state, dispatch] = useActionState(saveLimits, UNTOUCHED);
  const wasSent = Object.keys(state.values).length > 0;
  const order = [...rules.flatMap((rule) => rule.limits), ...limits].flatMap((limit) => [
    limit.name,
    limit.afterwardsName,
  ]);
  return (
    <FormFrame
      label="Limits"
      state={state}
      dispatch={dispatch}
      submitText="Save these limits"
      order={order}
      className="max-w-[46rem]"
    >
      <input type="hidden" name="draftId" value={draftId} />
      <input type="hidden" name="revision" value={revision} />
      <input type="hidden" name="part" value={part} />
      {rules.map((rule) => (
        <fieldset key={rule.id} className="border-t border-rule-strong pt-4">
          <legend className="float-left w-full font-serif text-lg font-semibold">{rule.title}</legend>
          <div className="clear-both space-y-4">
            <p className="max-w-[38rem] text-sm text-ink-soft">{rule.why}</p>
            {rule.isAlwaysIn ? (
              <p className="text-sm">Holds in every version.</p>
            ) : (
              <CheckField
                name={rule.name}
                label="The version judges by this rule"
                defaultChecked={wasSent ? state.values[rule.name] === 'yes' : rule.isIn}
              />
            )}
            <LimitFields limits={rule.limits} state={state} />
          </div>
        </fieldset>
      ))}
      <LimitFields limits={limits} state={state} isOfNoRule />
    </FormFrame>
  );
}
