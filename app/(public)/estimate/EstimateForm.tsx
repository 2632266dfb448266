import { buttonClass } from '@/app/ui/buttonClass';
import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import { ErrorSummary } from '@/app/ui/forms/ErrorSummary';
import { errorOf, inOrder, summaryOf } from '@/app/ui/forms/fieldErrors';
import type { FormState } from '@/app/ui/forms/formState';
import { NumberFields } from '@/app/ui/forms/NumberFields';
import { Still } from '@/app/ui/Still';
import type { EstimateView } from '@/lib/registry/estimates/readEstimate';
import { ESTIMATE_CHOICES, ESTIMATE_NUMBERS, type EstimateNumber } from '@/lib/run/estimate/estimateFields';
import { unitFieldName } from '@/lib/run/numberField';
import { ADDRESS_NAMES } from '@/lib/units/display';
import { FindSetups } from '../FindSetups';
import { one, type SearchParams } from '../rankings/query';

interface EstimateFormProps {
  view: EstimateView;
  params: SearchParams;
  /** What the fields show. */
  values: Readonly<Record<string, string>>;
  /** The trip as it is worked out now, in a line. */
  asked: string;
}

type Part = { numbers: readonly EstimateNumber[]; choices: readonly string[] };

const DRIVE: Part = { numbers: ['speed', 'trip', 'climb', 'load'], choices: ['way', 'climate'] };
const WEATHER: Part = { numbers: ['air', 'windSpeed'], choices: ['windFrom'] };
const CHARGE: Part = { numbers: ['start', 'arrive', 'low', 'high', 'stop', 'charger'], choices: [] };
const PRICE: Part = { numbers: ['homePrice', 'wayPrice'], choices: [] };
const FINER: Part = {
  numbers: ['pressure', 'altitude', 'humidity', 'cabin', 'battery', 'capacity', 'capacityOff'],
  choices: [],
};

/** A plain GET form: its address holds all that was asked. Folded once there is an answer above it. */
export function EstimateForm({ view, params, values, asked }: EstimateFormProps) {
  const { outcome, setup, against, siblings, choices } = view;
  // the unit's field is that of its number
  const issues = inOrder(
    view.issues.map((issue) => ({ ...issue, path: issue.path.replace(/Unit$/, '') })),
    [DRIVE, WEATHER, CHARGE, PRICE, FINER].flatMap(({ numbers, choices }) => [...numbers, ...choices]),
  );
  const state: FormState = { title: '', issues, values };
  const isOpen = outcome.kind !== 'answered' || view.find !== '';
  const needsFiner = FINER.numbers.some((name) => (values[name] ?? '') !== '' || errorOf(issues, name));
  return (
    <>
      {/* Paper has no fields: it says what the numbers on it are for, or what is still to be chosen. */}
      <p className="mb-6 hidden max-w-[46rem] print:block">
        {outcome.kind === 'answered'
          ? `Worked out for: ${asked}.`
          : 'Choose a car, its setup and a trip on this page, then print the answer.'}
      </p>
      <details open={isOpen} className="no-print mb-8 border-y border-rule py-3" id="asked">
        <summary className="disclosure">{isOpen ? 'Your trip' : `Change the trip: ${asked}`}</summary>
        <ErrorSummary errors={summaryOf(issues)} />
        <Still className="mt-3">
          <form action="/estimate" method="get" aria-label="Your trip" noValidate>
            <Kept params={params} hasSetup={setup !== undefined} />
            <fieldset className="grid grid-cols-[repeat(auto-fill,minmax(min(100%,20rem),1fr))] items-start gap-x-8 gap-y-5">
              <legend className="sr-only">Car</legend>
              <ChoiceField
                name="setup"
                label="Car and setup"
                kind="select"
                emptyLabel="Choose one"
                defaultValue={setup?.slug}
                options={choices.map(({ slug, title, model }) => ({
                  value: slug,
                  label: `${model}: ${title}`,
                }))}
              />
              {siblings.length === 0 ? null : (
                <ChoiceField
                  name="against"
                  label="Compare with"
                  hint="Another setup of the same model, on the same trip."
                  kind="select"
                  emptyLabel="Nothing"
                  defaultValue={against?.slug}
                  options={siblings.map(({ slug, title }) => ({ value: slug, label: title }))}
                />
              )}
              <FindSetups notOffered={view.notOffered} find={view.find} />
            </fieldset>
            <Fields title="The drive" part={DRIVE} state={state} />
            <Fields title="The weather" part={WEATHER} state={state} />
            <Fields title="Charge" part={CHARGE} state={state} />
            <Fields title="What you pay" part={PRICE} state={state} />
            <details open={needsFiner} className="mt-6">
              <summary className="disclosure">More exactly: air and battery</summary>
              <Fields title="Air and battery" part={FINER} state={state} />
            </details>
            <div className="mt-6">
              <button type="submit" className={buttonClass('primary')}>
                Work it out
              </button>
            </div>
          </form>
        </Still>
      </details>
    </>
  );
}

function Fields({ title, part, state }: { title: string; part: Part; state: FormState }) {
  const numbers = part.numbers.flatMap((name) => ESTIMATE_NUMBERS.filter((field) => field.name === name));
  return (
    <fieldset className="mt-6">
      <legend className="mb-3 font-serif text-lg font-semibold">{title}</legend>
      <NumberFields fields={numbers} state={state} />
      {part.choices.length === 0 ? null : (
        <div className="mt-6 grid items-start gap-x-10 gap-y-6 sm:grid-cols-2">
          {ESTIMATE_CHOICES.filter(({ name }) => part.choices.includes(name)).map(
            ({ name, label, options }) => (
              <ChoiceField
                key={name}
                name={name}
                label={label}
                kind="select"
                options={options}
                defaultValue={state.values[name] ?? options[0].value}
                error={errorOf(state.issues, name)}
              />
            ),
          )}
        </div>
      )}
    </fieldset>
  );
}

/** What the address says of units stays with it, and the world where no setup tells it. */
function Kept({ params, hasSetup }: { params: SearchParams; hasSetup: boolean }) {
  const names = [...Object.values(ADDRESS_NAMES), ...(hasSetup ? [] : ['world'])];
  return names
    .filter((name) => !ESTIMATE_NUMBERS.some((field) => unitFieldName(field.name) === name))
    .map((name) => {
      const value = one(params, name);
      return value === undefined ? null : <input key={name} type="hidden" name={name} value={value} />;
    });
}
