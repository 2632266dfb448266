import { Filters } from '@/app/ui/Filters';
import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import { TextField } from '@/app/ui/forms/TextField';
import type { RankingView } from '@/lib/registry/rankings/rankings';
import { bodyLabel } from '@/lib/run/bodyClass';
import { TYRE_KINDS } from '@/lib/run/tyreKind';
import { hrefWith, one, type SearchParams } from './query';

const LABELS: Record<string, string> = {
  body: 'Body',
  model: 'Model',
  tyre: 'Tyres',
  level: 'Setting',
  runs: 'At least runs',
  cars: 'At least cars',
};

/** What the list is narrowed to; the address holds it all. */
export function RankingFilters({ view, params }: { view: RankingView; params: SearchParams }) {
  const applied = Object.entries(LABELS).flatMap(([name, label]) => {
    const value = one(params, name);
    return value === undefined
      ? []
      : [
          {
            label: `${label}: ${value}`,
            removeHref: hrefWith('/rankings', params, { [name]: undefined, from: undefined }),
          },
        ];
  });
  const keep = Object.fromEntries(
    ['class', 'world', 'unit'].flatMap((name) => {
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
      <ChoiceField
        name="body"
        label="Body"
        kind="select"
        emptyLabel="All"
        defaultValue={one(params, 'body')}
        options={view.filters.bodyClasses.map((value) => ({ value, label: bodyLabel(value) }))}
      />
      <ChoiceField
        name="model"
        label="Model"
        kind="select"
        emptyLabel="All"
        defaultValue={one(params, 'model')}
        options={view.filters.models.map(({ slug, name }) => ({ value: slug, label: name }))}
      />
      <ChoiceField
        name="tyre"
        label="Tyres"
        kind="select"
        emptyLabel="All"
        defaultValue={one(params, 'tyre')}
        options={TYRE_KINDS}
      />
      <ChoiceField
        name="level"
        label="Setting"
        kind="select"
        emptyLabel="All"
        defaultValue={one(params, 'level')}
        options={view.filters.levels}
      />
      <TextField name="runs" label="At least runs" inputMode="numeric" defaultValue={one(params, 'runs')} />
      <TextField name="cars" label="At least cars" inputMode="numeric" defaultValue={one(params, 'cars')} />
      <ChoiceField
        name="show"
        label="Show beside it"
        kind="select"
        defaultValue={one(params, 'show') ?? 'normalised'}
        options={[
          { value: 'normalised', label: 'Nothing' },
          { value: 'raw', label: 'Mean as measured' },
        ]}
      />
    </Filters>
  );
}
