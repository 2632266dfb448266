import { DataTable } from '@/app/ui/DataTable';
import type { RoadLoadTerm } from '@/lib/registry/roadLoads/roadLoad';
import { placeForUncertainty } from '@/lib/units/digits';
import type { Display } from '@/lib/units/display';
import { THIN_SPACE } from '@/lib/units/format';
import { showNumber } from '@/lib/units/show';

const WORDS: Readonly<Record<RoadLoadTerm['key'], { label: string; unit: string; note: string }>> = {
  drag: { label: 'Drag area ÷ efficiency', unit: 'm²', note: 'CdA/η' },
  rolling: { label: 'Rolling coefficient ÷ efficiency', unit: '', note: 'Crr/η at 20 °C' },
  auxiliary: {
    label: 'Auxiliary power',
    unit: 'W',
    note: 'climate mild, where the display does not show it',
  },
};

/** Each term as believed beforehand and as the runs make it, with its standard uncertainty. */
export function RoadLoadTerms({ terms, display }: { terms: readonly RoadLoadTerm[]; display: Display }) {
  return (
    <DataTable
      caption="Terms of the road load, value ± standard uncertainty"
      rows={terms}
      rowKey={(term) => term.key}
      columns={[
        {
          key: 'term',
          header: 'Term',
          rowHeader: true,
          cell: ({ key }) => (
            <>
              {WORDS[key].label} <span className="text-ink-soft">({WORDS[key].note})</span>
            </>
          ),
        },
        {
          key: 'prior',
          header: 'Prior',
          align: 'end',
          cell: (term) => text(term.prior, WORDS[term.key].unit, display),
        },
        {
          key: 'posterior',
          header: 'From the runs',
          align: 'end',
          cell: (term) => text(term.posterior, WORDS[term.key].unit, display),
        },
        {
          key: 'sharper',
          header: 'Uncertainty left',
          align: 'end',
          cell: ({ prior, posterior }) =>
            `${showNumber((100 * posterior.u) / prior.u, 0, display)}${THIN_SPACE}%`,
        },
      ]}
      footnote="Only the ratios to the battery-to-wheel efficiency can be told from consumption. The three are correlated: what drag does not explain, rolling must."
    />
  );
}

function text({ value, u }: { value: number; u: number }, unit: string, display: Display): string {
  const decimals = placeForUncertainty(u);
  const number = `${showNumber(value, decimals, display)}${THIN_SPACE}±${THIN_SPACE}${showNumber(u, decimals, display)}`;
  return unit === '' ? number : `${number}${THIN_SPACE}${unit}`;
}
