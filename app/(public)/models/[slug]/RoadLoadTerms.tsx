import { DataTable } from '@/app/ui/DataTable';
import type { RoadLoadTerm } from '@/lib/registry/roadLoads/roadLoad';
import { placeForUncertainty } from '@/lib/units/digits';
import { formatNumber, THIN_SPACE } from '@/lib/units/format';

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
export function RoadLoadTerms({ terms }: { terms: readonly RoadLoadTerm[] }) {
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
          cell: (term) => text(term.prior, WORDS[term.key].unit),
        },
        {
          key: 'posterior',
          header: 'From the runs',
          align: 'end',
          cell: (term) => text(term.posterior, WORDS[term.key].unit),
        },
        {
          key: 'sharper',
          header: 'Uncertainty left',
          align: 'end',
          cell: ({ prior, posterior }) => `${formatNumber((100 * posterior.u) / prior.u, 0)}${THIN_SPACE}%`,
        },
      ]}
      footnote="Only the ratios to the battery-to-wheel efficiency can be told from consumption. The three are correlated: what drag does not explain, rolling must."
    />
  );
}

function text({ value, u }: { value: number; u: number }, unit: string): string {
  const decimals = Math.max(0, placeForUncertainty(u));
  const number = `${formatNumber(value, decimals)}${THIN_SPACE}±${THIN_SPACE}${formatNumber(u, decimals)}`;
  return unit === '' ? number : `${number}${THIN_SPACE}${unit}`;
}
