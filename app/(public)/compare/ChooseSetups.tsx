import { buttonClass } from '@/app/ui/buttonClass';
import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import type { CompareView } from '@/lib/registry/comparisons/compare';
import { FindSetups } from '../FindSetups';

interface ChooseSetupsProps {
  view: CompareView;
  /** What the address says of the unit stays with it. */
  unit: string | undefined;
}

/** A plain GET form: the baseline first, then what is held against it, model by model. */
export function ChooseSetups({ view, unit }: ChooseSetupsProps) {
  const chosen = view.others.map((setup) => setup.slug);
  const isOpen = view.differences.length === 0 || view.find !== '';
  return (
    <details open={isOpen} className="no-print mb-8 border-y border-rule py-3">
      <summary className="disclosure">Choose setups</summary>
      <form action="/compare" method="get" aria-label="Choose setups" className="mt-3">
        <input type="hidden" name="class" value={view.group.cruiseClassKey} />
        {view.worlds.length > 1 ? <input type="hidden" name="world" value={view.group.world} /> : null}
        {unit === undefined ? null : <input type="hidden" name="unit" value={unit} />}
        <ChoiceField
          name="setup"
          id="baseline"
          label="Baseline"
          hint="What the others are held against, usually the car as delivered."
          kind="select"
          emptyLabel="Choose one"
          defaultValue={view.baseline?.slug}
          options={view.choices.flatMap(({ model, setups }) =>
            setups.map((setup) => ({ value: setup.slug, label: `${model}: ${setup.title} (${setup.runs})` })),
          )}
        />
        <p className="mt-6 text-sm text-ink-soft">
          Compared with it. The count is of approved runs in this class.
        </p>
        <div className="mt-3 grid grid-cols-[repeat(auto-fill,minmax(min(100%,20rem),1fr))] gap-x-8 gap-y-5">
          {view.choices.map(({ model, setups }, index) => (
            <ChoiceField
              key={model}
              name="setup"
              id={`model-${index}`}
              label={model}
              kind="checkboxes"
              defaultValues={chosen}
              options={setups.map((setup) => ({
                value: setup.slug,
                label: `${setup.title} (${setup.runs})`,
              }))}
            />
          ))}
        </div>
        {view.notOffered > 0 || view.find !== '' ? (
          <div className="mt-6 flex flex-wrap items-end gap-3">
            <FindSetups notOffered={view.notOffered} find={view.find} />
            <button type="submit" className={buttonClass('secondary')}>
              Find
            </button>
          </div>
        ) : null}
        <div className="mt-5 flex flex-wrap items-end gap-6">
          <button type="submit" className={buttonClass('primary')}>
            Compare
          </button>
        </div>
      </form>
    </details>
  );
}
