import type { FormHelp } from '@/app/ui/forms/ActionForm';
import { TextField } from '@/app/ui/forms/TextField';

interface WordsFieldsProps {
  help: FormHelp;
  label?: string;
  summary?: string;
}

/** What a version is called and what readers are told of it. */
export function WordsFields({ help: { value, error }, label, summary }: WordsFieldsProps) {
  return (
    <>
      <TextField
        name="label"
        label="Label"
        hint="Stands beside every run that it judges, for example 4.0."
        required
        maxLength={20}
        defaultValue={value('label', label)}
        error={error('label')}
      />
      <TextField
        name="summary"
        label="What changes, and why"
        hint="Readers find it on the protocol’s page."
        required
        multiline
        rows={3}
        maxLength={2000}
        defaultValue={value('summary', summary)}
        error={error('summary')}
      />
    </>
  );
}
