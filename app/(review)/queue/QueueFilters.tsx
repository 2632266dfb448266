import { hrefWith, one, type SearchParams } from '@/app/(public)/rankings/query';
import { Filters } from '@/app/ui/Filters';
import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import type { QueueView } from '@/lib/registry/review/queue';

/** What the queue is narrowed to; the address holds it all. */
export function QueueFilters({ view, params }: { view: QueueView; params: SearchParams }) {
  const fields = [
    {
      name: 'claim',
      label: 'Claim',
      options: [
        { value: 'free', label: 'Nobody’s' },
        { value: 'mine', label: 'Mine' },
      ],
    },
    {
      name: 'waits',
      label: 'Waits for',
      options: [
        { value: 'second', label: 'A second approval' },
        { value: 'appeal', label: 'A decision after an appeal' },
      ],
    },
    { name: 'class', label: 'Cruise speed class', options: view.choices.classes },
    { name: 'model', label: 'Model', options: view.choices.models },
    { name: 'loop', label: 'Loop', options: view.choices.loops },
  ];
  const applied = fields.flatMap(({ name, label, options }) => {
    const value = one(params, name);
    if (value === undefined) return [];
    const words = options.find((option) => option.value === value)?.label ?? value;
    return [
      {
        label: `${label}: ${words}`,
        removeHref: hrefWith('/queue', params, { [name]: undefined, from: undefined, decided: undefined }),
      },
    ];
  });
  return (
    <Filters action="/queue" label="Filter the queue" applied={applied} resetHref="/queue" collapsed>
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
