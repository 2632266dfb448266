'use client';

import { useActionState } from 'react';
import { FileField } from '@/app/ui/forms/FileField';
import { FormFrame } from '@/app/ui/forms/FormFrame';
import { errorOf } from '@/app/ui/forms/fieldErrors';
import { UNTOUCHED } from '@/app/ui/forms/formState';
import { uploadSheet } from './actions';

export function UploadSheet() {
  const [state, dispatch] = useActionState(uploadSheet, UNTOUCHED);
  return (
    <FormFrame label="Send a sheet" state={state} dispatch={dispatch} submitText="Read the sheet">
      <FileField
        name="file"
        label="Sheet of runs"
        hint="CSV or XLSX, headings in the first filled row, one run a row. Up to 5,000 rows and 10 MB."
        accept=".csv,.tsv,.txt,.xlsx,text/csv,application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
        required
        error={errorOf(state.issues, 'file')}
      />
    </FormFrame>
  );
}
