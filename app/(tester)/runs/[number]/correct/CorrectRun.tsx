'use client';

import { useActionState } from 'react';
import { FormFrame } from '@/app/ui/forms/FormFrame';
import { FormSection } from '@/app/ui/forms/FormSection';
import { UNTOUCHED } from '@/app/ui/forms/formState';
import type { RecordFormView } from '@/lib/registry/runs/recordForm';
import { RUN_SECTIONS } from '@/lib/run/fields/sections';
import { RUN_FORM_ORDER } from '@/lib/run/runForm';
import { ReasonField } from '../../../ReasonField';
import { ReadingFields } from '../../../record/[runId]/ReadingFields';
import { StartFields } from '../../../record/[runId]/StartFields';
import { TextFields } from '../../../record/[runId]/TextFields';
import { startingValues } from '../../../record/formValues';
import { correctRunFromForm } from './actions';

/** What makes the run the run that it is goes along as it stands. */
const KEPT = ['carId', 'setupId', 'loopId', 'cruiseClassKey'];
const SECTIONS = RUN_SECTIONS.filter(({ key }) => key !== 'setup' && key !== 'evidence');

/** The readings of an approved run as its form has them. */
export function CorrectRun({ view }: { view: RecordFormView }) {
  const [state, dispatch] = useActionState(correctRunFromForm, { ...UNTOUCHED, values: view.form });
  const starting = startingValues(state.values, {});
  const parts = {
    view,
    starting,
    values: starting,
    issues: state.issues,
    remarks: {},
    review: undefined,
    photos: view.photos,
  };
  return (
    <FormFrame
      label={`Correct run ${view.number}`}
      state={state}
      dispatch={dispatch}
      submitText="Propose the correction"
      order={[...RUN_FORM_ORDER, 'reason']}
    >
      <input type="hidden" name="runId" value={view.runId} />
      {KEPT.map((name) => (
        <input key={name} type="hidden" name={name} value={view.form[name] ?? ''} />
      ))}
      {SECTIONS.map((section, index) => (
        <FormSection
          key={section.key}
          legend={section.label}
          step={{ number: index + 1, of: SECTIONS.length + 1 }}
        >
          {section.key === 'start' ? <StartFields parts={parts} /> : null}
          <ReadingFields section={section.key} parts={parts} />
          <TextFields section={section.key} parts={parts} />
        </FormSection>
      ))}
      <FormSection legend="Why" step={{ number: SECTIONS.length + 1, of: SECTIONS.length + 1 }}>
        <ReasonField state={state} />
      </FormSection>
    </FormFrame>
  );
}
