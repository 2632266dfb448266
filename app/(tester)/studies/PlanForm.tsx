'use client';

import { useActionState, useState } from 'react';
import { CheckField } from '@/app/ui/forms/CheckField';
import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import { FormFrame } from '@/app/ui/forms/FormFrame';
import { FormSection } from '@/app/ui/forms/FormSection';
import { errorOf } from '@/app/ui/forms/fieldErrors';
import { type FormState, textsOf, UNTOUCHED } from '@/app/ui/forms/formState';
import { NumberFields, TextInput } from '@/app/ui/forms/NumberFields';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import type { PlanFormView } from '@/lib/registry/studies/planForm';
import { PLAN_NUMBERS, POWERS, setupFieldName } from '@/lib/study/planForm';
import type { Display } from '@/lib/units/display';
import { keepPlan } from './actions';
import { WhatIf } from './WhatIf';

interface PlanFormProps {
  view: PlanFormView;
  display: Display;
  /** Of a new plan. */
  subjects?: { carId: string; loopId: string; cruiseClassKey: string };
}

const { wantedPercent, runsADay, days, betweenRunsMin, everyDays, pricePerKwh } = PLAN_NUMBERS;
const ORDER = [
  'question',
  'baselineId',
  'setups',
  ...[wantedPercent, runsADay, days, betweenRunsMin].map(({ name }) => name),
  'firstDay',
  'everyDays',
  'pricePerKwh',
  'reason',
];

/** The form of a plan with what it would take beside it, which follows each change where there are scripts. */
export function PlanForm({ view, display, subjects }: PlanFormProps) {
  const [sent, dispatch] = useActionState(keepPlan, UNTOUCHED);
  const [typed, setTyped] = useState<Readonly<Record<string, string>>>();
  const hasAnswer = Object.keys(sent.values).length > 0;
  const start = hasAnswer ? sent.values : view.form;
  const state: FormState = { ...sent, values: start };
  return (
    // The fields inside are what is operated; this only hears of it.
    <div
      className="lg:grid lg:grid-cols-[minmax(0,3fr)_minmax(17rem,2fr)] lg:gap-12"
      onChange={(event) => {
        const form = event.currentTarget.querySelector('form');
        if (form) setTyped(textsOf(new FormData(form)));
      }}
    >
      <FormFrame label="The plan" state={state} dispatch={dispatch} order={ORDER}>
        <Hidden view={view} subjects={subjects} />
        <FormSection legend="The question">
          {view.study?.isFixed ? (
            <p className="max-w-[38rem]">
              {view.form.question}{' '}
              <span className="text-ink-soft">
                Question and setups stay: anything else would be another study.
              </span>
            </p>
          ) : (
            <>
              <TextInput
                state={state}
                name="question"
                label="What do you want to know?"
                hint="In a sentence, for example “Does the low ride height use less at 110?”"
                required
                maxLength={140}
                autoComplete="off"
              />
              <SetupFields view={view} state={state} baselineId={(typed ?? start).baselineId ?? ''} />
            </>
          )}
        </FormSection>
        <FormSection legend="How small a difference">
          <NumberFields fields={[wantedPercent]} state={state} />
          <ChoiceField
            kind="radio"
            inline
            name="power"
            label="How surely should it be found?"
            hint="If it is really that large."
            options={POWERS}
            defaultValue={start.power ?? POWERS[0].value}
          />
        </FormSection>
        <FormSection legend="The days">
          <NumberFields fields={[runsADay, days, betweenRunsMin, pricePerKwh]} state={state} />
          <TextInput
            state={state}
            name="firstDay"
            type="date"
            label="First day"
            hint="For the calendar file; leave it empty if you drive when the weather suits."
          />
          <NumberFields fields={[everyDays]} state={state} />
        </FormSection>
        {view.study?.isFixed ? (
          <FormSection legend="Why it changes">
            <TextInput
              state={state}
              name="reason"
              label="Reason"
              hint="The plan was fixed; readers see this beside the new version. The study then shows the wider interval."
              required
              multiline
              maxLength={1000}
            />
          </FormSection>
        ) : null}
        <div className="flex flex-wrap gap-3">
          <SubmitButton name="act" value="keep">
            {view.study?.isFixed ? 'Keep as a new version' : view.study ? 'Keep the draft' : 'Make the draft'}
          </SubmitButton>
          <SubmitButton name="act" value="show" variant="secondary">
            Show what it takes
          </SubmitButton>
        </div>
      </FormFrame>
      <WhatIf form={typed ?? start} view={view} display={display} />
    </div>
  );
}

function Hidden({ view, subjects }: Pick<PlanFormProps, 'view' | 'subjects'>) {
  const { study } = view;
  const values = study
    ? { studyId: study.id, version: String(study.version), ...(study.isFixed ? fixedOf(view.form) : {}) }
    : { ...subjects, ...(view.request ? { requestId: view.request.id } : {}) };
  return Object.entries(values).map(([name, value]) => (
    <input key={name} type="hidden" name={name} value={value} />
  ));
}

/** Sent along with a plan that is fixed, so that what it takes can be shown; the server goes by what it keeps. */
function fixedOf(form: PlanFormView['form']): Record<string, string> {
  return Object.fromEntries(
    Object.entries(form).filter(([name]) => /^(question$|baselineId$|setup\.)/.test(name)),
  );
}

function SetupFields({
  view,
  state,
  baselineId,
}: {
  view: PlanFormView;
  state: FormState;
  /** As chosen now: nothing is held against itself. */
  baselineId: string;
}) {
  const { setups } = view.basis;
  const error = errorOf(state.issues, 'setups');
  return (
    <>
      <ChoiceField
        name="baselineId"
        label="Baseline"
        hint="What the others are held against."
        emptyLabel="Choose"
        options={setups.map(({ id, title }) => ({ value: id, label: title }))}
        defaultValue={state.values.baselineId ?? ''}
        error={errorOf(state.issues, 'baselineId')}
      />
      <fieldset id="setups" tabIndex={-1}>
        <legend className="font-semibold">Against it</legend>
        <p className="text-sm text-ink-soft">
          Setups that differ from the baseline in one thing each, or all combinations of two things.{' '}
          <a className="link" href="/my/setups/new">
            Add a setup
          </a>
        </p>
        {error ? (
          <p className="mt-1 font-semibold text-problem">
            {error.what}{' '}
            <span className="font-normal">
              {error.why} {error.fix}
            </span>
          </p>
        ) : null}
        {setups
          .filter(({ id }) => id !== baselineId)
          .map(({ id, title }) => (
            <CheckField
              key={id}
              name={setupFieldName(id)}
              label={title}
              defaultChecked={state.values[setupFieldName(id)] === 'yes'}
            />
          ))}
      </fieldset>
    </>
  );
}
