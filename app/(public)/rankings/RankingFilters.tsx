import { Filters } from '@/app/ui/Filters';
import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import { TextField } from '@/app/ui/forms/TextField';
import type { RankingView } from '@/lib/registry/rankings/rankings';
import { bodyLabel } from '@/lib/run/bodyClass';
import { labelOf } from '@/lib/run/namedValues';
import { TYRE_KINDS } from '@/lib/run/tyreKind';
import type { Display } from '@/lib/units/display';
import { temperatureChoices } from './chosenWords';
import { hrefWith, one, type SearchParams } from './query';

interface Choice {
  name: string;
  label: string;
  options: readonly { value: string; label: string }[];
}

interface RankingFiltersProps {
  view: RankingView;
  params: SearchParams;
  display: Display;
}

/** What the list is narrowed to; the address holds it all. */
export function RankingFilters({ view, params, display }: RankingFiltersProps) {
  const { bodyClasses, models, levels, protocols } = view.filters;
  const choices: Choice[] = [
    {
      name: 'body',
      label: 'Body',
      options: bodyClasses.map((value) => ({ value, label: bodyLabel(value) })),
    },
    {
      name: 'model',
      label: 'Model',
      options: models.map(({ slug, name }) => ({ value: slug, label: name })),
    },
    { name: 'tyre', label: 'Tyres', options: TYRE_KINDS },
    { name: 'level', label: 'Setting', options: levels },
    { name: 'temp', label: 'Air temperature', options: temperatureChoices(display) },
    {
      name: 'protocol',
      label: 'Protocol version',
      options: protocols.map((value) => ({ value, label: value })),
    },
  ];
  const applied = [
    ...choices.map(({ name, label, options }) => {
      const value = one(params, name);
      return { name, words: value === undefined ? undefined : `${label}: ${labelOf(options, value)}` };
    }),
    ...[
      { name: 'runs', of: 'runs' },
      { name: 'cars', of: 'cars' },
    ].map(({ name, of }) => {
      const value = one(params, name);
      return { name, words: value === undefined ? undefined : `At least ${value} ${of}` };
    }),
    { name: 'show', words: view.plain?.isRaw ? 'Ranked by numbers as measured' : undefined },
  ].flatMap(({ name, words }) =>
    words === undefined
      ? []
      : [
          {
            label: words,
            removeHref: hrefWith('/rankings', params, { [name]: undefined, from: undefined }),
          },
        ],
  );
  const keep = Object.fromEntries(
    ['class', 'world', 'beside', 'unit', 'by', 'counts'].flatMap((name) => {
      const value = one(params, name);
      return value === undefined ? [] : [[name, value]];
    }),
  );
  return (
    <Filters
      action="/rankings"
      hidden={keep}
      applied={applied}
      resetHref={hrefWith('/rankings', keep, {})}
      collapsed
    >
      {choices.map(({ name, label, options }) => (
        <ChoiceField
          key={name}
          name={name}
          label={label}
          kind="select"
          emptyLabel="All"
          defaultValue={one(params, name)}
          options={options}
        />
      ))}
      <TextField name="runs" label="Runs, at least" inputMode="numeric" defaultValue={one(params, 'runs')} />
      <TextField name="cars" label="At least cars" inputMode="numeric" defaultValue={one(params, 'cars')} />
      <ChoiceField
        name="show"
        label="Ranked by"
        kind="select"
        defaultValue={one(params, 'show') ?? ''}
        options={[
          { value: '', label: 'Estimates at reference conditions' },
          { value: 'raw', label: 'Plain means as measured' },
        ]}
      />
    </Filters>
  );
}
