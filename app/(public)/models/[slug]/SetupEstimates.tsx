import { countText } from '@/app/ui/countText';
import { DataTable } from '@/app/ui/DataTable';
import { Link } from '@/app/ui/Link';
import { Section } from '@/app/ui/Section';
import type { ModelView } from '@/lib/registry/models/model';
import type { Display } from '@/lib/units/display';
import { unitSymbol } from '@/lib/units/unit';
import { fittedNumber, intervalText } from '../../consumptionText';

/** All setups of the model by their levels, with what each uses in the chosen class. */
export function SetupEstimates({ view, display }: { view: ModelView; display: Display }) {
  return (
    <Section
      id="setups"
      title="Setups"
      note={
        view.classLabel === ''
          ? undefined
          : `What each uses at ${view.classLabel} and reference conditions, with 95 % intervals.`
      }
      wide
    >
      <DataTable
        caption={`Setups of ${view.name} by what was set`}
        captionHidden
        rows={view.setups}
        rowKey={(setup) => setup.setupId}
        empty="No setup yet."
        columns={[
          {
            key: 'setup',
            header: 'Setup',
            rowHeader: true,
            cell: (setup) => (
              <Link className="link" href={`/setups/${setup.slug}`}>
                {setup.title}
              </Link>
            ),
          },
          ...view.factors.map((factor) => ({
            key: factor.factor,
            header: factor.label,
            cell: (setup: ModelView['setups'][number]) => {
              const level = setup.levels.find((candidate) => candidate.factor === factor.factor);
              if (level === undefined) return 'not stated';
              return level.isAsDelivered ? (
                <span className="text-ink-soft">{level.label}</span>
              ) : (
                <strong className="font-semibold">{level.label}</strong>
              );
            },
          })),
          {
            key: 'estimate',
            header: 'Estimate',
            unit: unitSymbol(display.consumption),
            align: 'end' as const,
            cell: ({ estimate }) => (estimate ? fittedNumber(estimate, display) : '–'),
          },
          {
            key: 'interval',
            header: '95 % interval',
            align: 'end' as const,
            cell: ({ estimate }) => (estimate ? intervalText(estimate, display) : 'not driven in this class'),
          },
          {
            key: 'counts',
            header: 'From',
            wide: true,
            cell: ({ estimate }) =>
              estimate ? countText({ runs: estimate.runs, cars: estimate.cars, days: estimate.days }) : '–',
          },
        ]}
        footnote="What differs from the car as delivered is set in bold."
      />
    </Section>
  );
}
