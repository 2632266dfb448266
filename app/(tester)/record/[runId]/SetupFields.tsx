import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import { errorOf } from '@/app/ui/forms/fieldErrors';
import { Link } from '@/app/ui/Link';
import { fieldNamed } from '@/lib/run/fields/table';
import type { FormParts } from './formParts';
import { hintOf } from './ReadingFields';

const CAR = fieldNamed('carId');
const SETUP = fieldNamed('setupId');

interface SetupFieldsProps {
  parts: FormParts;
  onCar: (carId: string) => void;
  onSetup: (setupId: string) => void;
}

/** The car, and a setup of the car's own model. */
export function SetupFields({ parts, onCar, onSetup }: SetupFieldsProps) {
  const { view, values, issues } = parts;
  const car = view.cars.find((one) => one.id === values.carId);
  // Without a script the list cannot follow the car: until one is saved, it names the model with each setup.
  const setups = car
    ? car.setups.map((setup) => ({ value: setup.id, label: setup.title }))
    : view.cars
        .filter((one, index) => view.cars.findIndex((other) => other.modelId === one.modelId) === index)
        .flatMap((one) =>
          one.setups.map((setup) => ({ value: setup.id, label: `${one.model}: ${setup.title}` })),
        );
  return (
    <div className="grid items-start gap-x-10 gap-y-6 sm:grid-cols-2">
      <div>
        <ChoiceField
          name={CAR.name}
          label={CAR.label}
          required
          hint={hintOf('carId', car ? car.model : CAR.hint, parts)}
          emptyLabel="Choose a car"
          options={view.cars.map((one) => ({ value: one.id, label: one.name }))}
          value={values.carId ?? ''}
          onValueChange={onCar}
          error={errorOf(issues, 'carId')}
        />
        <p className="mt-1.5 text-sm">
          <Link href={`/my/cars?run=${view.runId}#add`} className="link inline-flex min-h-6 items-center">
            Add a car
          </Link>
        </p>
      </div>
      <div>
        <ChoiceField
          name={SETUP.name}
          label={SETUP.label}
          required
          hint={hintOf('setupId', SETUP.hint, parts)}
          emptyLabel="Choose a setup"
          options={setups}
          value={setups.some((setup) => setup.value === values.setupId) ? (values.setupId ?? '') : ''}
          onValueChange={onSetup}
          error={errorOf(issues, 'setupId')}
        />
        {car ? (
          <p className="mt-1.5 text-sm">
            <Link
              href={`/my/setups/new?model=${car.modelId}&run=${view.runId}`}
              className="link inline-flex min-h-6 items-center"
            >
              Add a setup of this model
            </Link>
          </p>
        ) : null}
      </div>
    </div>
  );
}
