import { Filters } from '@/app/ui/Filters';
import { TextField } from '@/app/ui/forms/TextField';
import type { ModelChoices } from '@/lib/registry/cars/carChoices';

interface FindModelProps {
  /** The page that offers the models, and where on it. */
  path: string;
  anchor?: string;
  text: string | undefined;
  choices: ModelChoices;
  run: string | undefined;
}

/** Where there are more models than a list is readable with: a search that narrows what is offered below it. */
export function FindModel({ path, anchor = '', text, choices, run }: FindModelProps) {
  const { models, total } = choices;
  return (
    <>
      <Filters
        action={`${path}${anchor}`}
        label="Find the model"
        submitText="Find"
        resetHref={`${path}${run ? `?run=${run}` : ''}${anchor}`}
        hidden={run ? { run } : {}}
      >
        <TextField
          name="q"
          label="Part of the maker’s or the model’s name"
          defaultValue={text}
          maxLength={100}
        />
      </Filters>
      <p role="status" className="mb-6 text-sm text-ink-soft">
        {total === 0
          ? 'No model has this in its name.'
          : total > models.length
            ? `${models.length} of ${total} models are offered: a part of the name narrows them down.`
            : `${total} ${total === 1 ? 'model is' : 'models are'} offered.`}
      </p>
    </>
  );
}
