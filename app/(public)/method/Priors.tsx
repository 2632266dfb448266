import { DataTable } from '@/app/ui/DataTable';
import { Section } from '@/app/ui/Section';
import type { MethodPageView } from '@/lib/registry/method/methodPage';
import type { Display } from '@/lib/units/display';
import { showSignificant } from '@/lib/units/show';

type Prior = MethodPageView['priors'][number];

/** Three significant digits are more than any prior deserves. */
const digits = (value: number, display: Display) => showSignificant(value, 3, display);

function spread(prior: Prior, display: Display): string {
  const parts = [
    ...(prior.u > 0 ? [digits(prior.u, display)] : []),
    ...(prior.relativeU > 0 ? [`${digits(100 * prior.relativeU, display)} % of the value`] : []),
  ];
  return parts.length === 0 ? '0' : parts.join(' and ');
}

/** What is believed before anything is measured; the very table that the engine reads. */
export function Priors({ view, display }: { view: MethodPageView; display: Display }) {
  return (
    <Section
      id="priors"
      title="What is assumed where nothing was measured"
      note={`These are typical values (priors), used until something better is known: a car’s own values take their place. Table ${view.priorsVersion}.`}
      wide
    >
      <DataTable
        caption="Priors with standard uncertainty, range and source"
        captionHidden
        rows={[...view.priors, ...view.estimatePriors]}
        rowKey={(prior) => prior.label}
        columns={[
          { key: 'label', header: 'Quantity', rowHeader: true, wide: true, cell: (prior) => prior.label },
          { key: 'unit', header: 'Unit', cell: (prior) => (prior.unit === '' ? '1' : prior.unit) },
          { key: 'value', header: 'Value', align: 'end', cell: (prior) => digits(prior.value, display) },
          { key: 'u', header: 'Standard uncertainty', align: 'end', cell: (prior) => spread(prior, display) },
          {
            key: 'range',
            header: 'Range',
            align: 'end',
            cell: (prior) =>
              prior.low === 0 && prior.high === 0
                ? '–'
                : `${digits(prior.low, display)} to ${digits(prior.high, display)}`,
          },
          { key: 'distribution', header: 'Distribution', cell: (prior) => prior.distribution },
          { key: 'source', header: 'Source', wide: true, cell: (prior) => prior.source },
        ]}
        footnote={`The last ${view.estimatePriors.length} stand behind an estimate for a reader alone: no published result rests on them. Where the uncertainty is a share of the value, the value printed only shows a typical size.`}
      />
    </Section>
  );
}
