import { DefinitionList } from '@/app/ui/DefinitionList';
import { Link } from '@/app/ui/Link';
import { Section } from '@/app/ui/Section';
import type { ModelView } from '@/lib/registry/models/model';
import { bodyLabel } from '@/lib/run/bodyClass';
import type { Display } from '@/lib/units/display';
import { showQuantity } from '@/lib/units/show';

const NOT_STATED = 'not stated';

/** What the maker says of the model; where it says nothing the method's prior for the body stands in. */
export function DataSheet({
  view,
  display,
  mayCorrect,
}: {
  view: ModelView;
  display: Display;
  mayCorrect: boolean;
}) {
  const { dataSheet, factors } = view;
  const byPrior = 'The method takes a typical value for such a body.';
  return (
    <Section id="data-sheet" title="Data sheet" note="Stated values, not measured here.">
      <DefinitionList
        items={[
          { term: 'Body', description: bodyLabel(dataSheet.bodyClass) },
          {
            term: 'Kerb mass',
            description: showQuantity(dataSheet.kerbMassKg, 'mass', display, { decimals: 0 }),
          },
          {
            term: 'Usable capacity',
            description:
              dataSheet.usableCapacityWh === null
                ? NOT_STATED
                : showQuantity(dataSheet.usableCapacityWh, 'kWh', display, { decimals: 1 }),
          },
          {
            term: 'Drag area',
            description:
              dataSheet.dragAreaM2 === null
                ? NOT_STATED
                : showQuantity(dataSheet.dragAreaM2, 'm2', display, { decimals: 2 }),
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
      {mayCorrect ? (
        <p className="no-print mt-4">
          <Link className="link" href={`/models/${view.slug}/correct`}>
            Correct a value
          </Link>
        </p>
      ) : null}
    </Section>
  );
}
