import { DataTable } from '@/app/ui/DataTable';
import { DefinitionList } from '@/app/ui/DefinitionList';
import { Link } from '@/app/ui/Link';
import { Section } from '@/app/ui/Section';
import { Day } from '@/app/ui/When';
import type { StudyView } from '@/lib/registry/studies/study';
import { dateText } from '@/lib/run/localDate';
import { ORDER_WORDS } from '@/lib/study/orders';
import { dayOfSession, letterOf, type StudyPlan } from '@/lib/study/plan';
import type { Display } from '@/lib/units/display';
import { showNumber, showQuantity, showShare } from '@/lib/units/show';

interface PlanPartProps {
  view: StudyView;
  plan: StudyPlan;
  display: Display;
}

/** The plan as it holds, and every version of it. */
export function PlanPart({ view, plan, display }: PlanPartProps) {
  const { expected } = plan;
  const percent = (value: number) => `${showNumber(value, 1, display)} %`;
  const fixed = view.versions.at(-1)?.madeAt;
  return (
    <Section
      id="plan"
      title="The plan"
      note={
        view.state === 'draft'
          ? 'A draft: it is fixed when the study begins, or when the first run of it is sent in.'
          : 'Fixed before driving. What changed afterwards stands below, with its reason.'
      }
    >
      <DefinitionList
        items={[
          {
            term: 'Setups',
            description: (
              <ul>
                {view.setups.map((setup) => (
                  <li key={setup.id}>
                    {letterOf(plan, setup.id)}{' '}
                    <Link className="link" href={`/setups/${setup.slug}`}>
                      {setup.title}
                    </Link>
                    {setup.id === plan.baselineId ? ', the baseline' : ''}
                  </li>
                ))}
              </ul>
            ),
          },
          {
            term: 'Difference worth knowing',
            description: `${percent(plan.wantedPercent)}, to be found with a chance of ${showShare(plan.power, display)}`,
          },
          {
            term: 'Expected when planned',
            description:
              expected.detectablePercent === null
                ? 'Too few runs to tell any difference from chance'
                : `a difference of ${percent(expected.detectablePercent)} would show; that of ${percent(plan.wantedPercent)} with a chance of ${showShare(expected.power, display)}`,
            note: expected.isAssumed
              ? 'How well runs repeat was assumed: the class had too few.'
              : 'By how well runs of the class repeated until then.',
          },
          {
            term: 'Time',
            description: `about ${showNumber(expected.hours, 0, display)} h${expected.chargingStops === null ? '' : `, with ${expected.chargingStops} charges between runs`}`,
          },
          ...(expected.energyWh === null
            ? []
            : [
                {
                  term: 'Energy',
                  description: `about ${showQuantity(expected.energyWh, 'kWh', display, { decimals: 0 })}${expected.cost === null ? '' : `, for about ${showNumber(expected.cost, 0, display)}`}`,
                },
              ]),
          {
            term: 'Order',
            description: ORDER_WORDS[plan.orderKind],
            note: `Drawn at random from the seed ${plan.seed}, so that nobody could choose it to suit a result.`,
          },
        ]}
      />
      <div className="mt-6">
        <DataTable
          caption="Order of each day"
          rows={plan.days.map((order, at) => ({ order, at }))}
          rowKey={({ at }) => String(at)}
          columns={[
            { key: 'day', header: 'Day', rowHeader: true, cell: ({ at }) => at + 1 },
            {
              key: 'order',
              header: 'Order',
              cell: ({ order }) => order.map((id) => letterOf(plan, id)).join(' '),
            },
            ...(plan.calendar === null
              ? []
              : [
                  {
                    key: 'date',
                    header: 'Date',
                    cell: ({ at }: { at: number }) => <Day of={dayOfSession(plan, at) ?? ''} />,
                  },
                ]),
          ]}
        />
      </div>
      {view.versions.length > 1 ? (
        <div className="mt-6">
          <DataTable
            caption="Versions of the plan, the newest first"
            rows={view.versions}
            rowKey={({ number }) => String(number)}
            columns={[
              { key: 'number', header: 'Version', rowHeader: true, cell: ({ number }) => number },
              { key: 'at', header: 'Made', cell: ({ madeAt }) => <Day of={dateText(madeAt)} /> },
              {
                key: 'days',
                header: 'Days and runs a day',
                cell: ({ plan: own }) => (own ? `${own.days.length} × ${own.runsADay}` : '–'),
              },
              {
                key: 'reason',
                header: 'Why',
                wide: true,
                cell: ({ number, reason }) => (number === 1 ? 'As fixed before driving' : reason),
              },
            ]}
          />
        </div>
      ) : (
        <p className="mt-3 text-sm text-ink-soft">
          One version, of <Day of={dateText(fixed)} />.
        </p>
      )}
    </Section>
  );
}
