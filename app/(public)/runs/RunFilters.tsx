import { hrefWith, one, type SearchParams } from '@/app/(public)/rankings/query';
import { Filters } from '@/app/ui/Filters';
import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import type { RunListView } from '@/lib/registry/runs/runList';
import { PUBLIC_RUN_STATUSES, RUN_STATUS_LABELS } from '@/lib/run/runStatus';

/** What the list is narrowed to; the address holds it all. */
export function RunFilters({ view, params }: { view: RunListView; params: SearchParams }) {
  const fields = [
    { name: 'class', label: 'Cruise speed class', options: view.choices.classes },
    { name: 'model', label: 'Model', options: view.choices.models },
    { name: 'loop', label: 'Loop', options: view.choices.loops },
    { name: 'tester', label: 'Tester', options: view.choices.testers },
    {
      name: 'state',
      label: 'State',
      options: PUBLIC_RUN_STATUSES.map((value) => ({ value, label: RUN_STATUS_LABELS[value] })),
    },
  ];
  const unit = one(params, 'unit');
  const applied = fields.flatMap(({ name, label, options }) => {
    const value = one(params, name);
    if (value === undefined) return [];
    const words = options.find((option) => option.value === value)?.label ?? value;
    return [
      {
        label: `${label}: ${words}`,
        removeHref: hrefWith('/runs', params, { [name]: undefined, from: undefined }),
      },
    ];
  });
  return (
    <Filters
      action="/runs"
      label="Filter runs"
      hidden={unit ? { unit } : {}}
      applied={applied}
      resetHref={hrefWith('/runs', {}, { unit })}
      collapsed
    >
      {fields.map((field) => (
        <ChoiceField
          key={field.name}
          name={field.name}
          label={field.label}
          kind="select"
          emptyLabel="All"
          defaultValue={one(params, field.name)}
          options={field.options}
        />
      ))}
    </Filters>
  );
}
