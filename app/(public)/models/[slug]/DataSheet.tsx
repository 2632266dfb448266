import { DefinitionList } from '@/app/ui/DefinitionList';
import { Section } from '@/app/ui/Section';
import type { ModelView } from '@/lib/registry/models/model';
import { bodyLabel } from '@/lib/run/bodyClass';
import { formatQuantity } from '@/lib/units/format';

const NOT_STATED = 'not stated';

/** What the maker says of the model; where it says nothing the method's prior for the body stands in. */
export function DataSheet({ view }: { view: ModelView }) {
  const { dataSheet, factors } = view;
  const byPrior = 'The method takes its prior for the body.';
  return (
    <Section id="data-sheet" title="Data sheet" note="Stated values, not measured here.">
      <DefinitionList
        items={[
          { term: 'Body', description: bodyLabel(dataSheet.bodyClass) },
          { term: 'Kerb mass', description: formatQuantity(dataSheet.kerbMassKg, 'kg', { decimals: 0 }) },
          {
            term: 'Usable capacity',
            description:
              dataSheet.usableCapacityWh === null
                ? NOT_STATED
                : formatQuantity(dataSheet.usableCapacityWh, 'kWh', { decimals: 1 }),
          },
          {
            term: 'Drag area',
            description:
              dataSheet.dragAreaM2 === null
                ? NOT_STATED
                : formatQuantity(dataSheet.dragAreaM2, 'm2', { decimals: 2 }),
            note: dataSheet.dragAreaM2 === null ? byPrior : (dataSheet.dragAreaSource ?? undefined),
          },
          { term: 'Heat pump', description: dataSheet.hasHeatPump ? 'yes' : 'no' },
          ...factors.map((factor) => ({
            term: factor.label,
            description: factor.levels
              .map((level) => `${level.label}${level.isAsDelivered ? ' (as delivered)' : ''}`)
              .join(' · '),
          })),
        ]}
      />
    </Section>
  );
}
