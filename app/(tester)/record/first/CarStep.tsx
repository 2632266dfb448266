import { Button } from '@/app/ui/Button';
import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import { Link } from '@/app/ui/Link';
import type { ModelChoices } from '@/lib/registry/cars/carChoices';
import { AddCar } from '../../my/cars/AddCar';
import { FindModel } from '../../my/cars/FindModel';
import { AddModel } from '../../my/models/new/AddModel';
import { FIRST_RUN } from '../../waiting';

/** What stands for a model that is not in the registry yet. */
export const NEW_MODEL = 'new';

interface CarStepProps {
  /** As in the address: an id, a new one, or none chosen yet. */
  model: string | undefined;
  text: string | undefined;
  choices: ModelChoices;
}

/** The model, chosen or added, then the car of it. */
export function CarStep({ model, text, choices }: CarStepProps) {
  if (model === NEW_MODEL || (choices.total === 0 && text === undefined)) {
    return (
      <>
        <p className="mb-5 max-w-[46rem]">
          Four things are needed: maker, model, year and mass. The model as delivered is the setup that others
          are held against; it is made along with the model.
        </p>
        <AddModel run={FIRST_RUN} />
      </>
    );
  }
  const known = choices.models.some(({ id }) => id === model);
  if (known) return <AddCar models={choices.models} modelId={model} run={FIRST_RUN} />;
  return (
    <>
      {text !== undefined || choices.total > choices.models.length ? (
        <FindModel path="/record/first" anchor="#next" text={text} choices={choices} run={undefined} />
      ) : null}
      {choices.models.length > 0 ? (
        <form
          action="/record/first#next"
          aria-label="Model of the car"
          className="flex flex-wrap items-end gap-4"
        >
          <ChoiceField
            name="model"
            label="Which model is it?"
            required
            emptyLabel="Choose the model"
            options={choices.models.map(({ id, label }) => ({ value: id, label }))}
          />
          <Button type="submit" variant="primary">
            It is this one
          </Button>
        </form>
      ) : null}
      <p className="mt-5">
        <Link
          className="link inline-flex min-h-6 items-center"
          href={`/record/first?model=${NEW_MODEL}#next`}
        >
          {choices.total > 0 ? 'It is not in the list: add the model' : 'Add the model'}
        </Link>
      </p>
    </>
  );
}
