import { buttonClass } from '@/app/ui/buttonClass';
import { DataTable } from '@/app/ui/DataTable';
import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import { TextField } from '@/app/ui/forms/TextField';
import { Section } from '@/app/ui/Section';
import type { CompareView, SetupDifference } from '@/lib/registry/comparisons/compare';
import type { Display } from '@/lib/units/display';
import { showNumber, showSignificant } from '@/lib/units/show';
import { one, type SearchParams } from '../rankings/query';
import { all, POWERS } from './compareQuery';

interface SettleProps {
  view: CompareView;
  params: SearchParams;
  display: Display;
}

/** What the data at hand can see, and what it would take to see a wanted difference. */
export function Settle({ view, params, display }: SettleProps) {
  const { wanted } = view;
  const share = `${showNumber(100 * wanted.power, 0, display)} %`;
  return (
    <Section
      id="settle"
      title="How much driving it takes"
      note="How much driving it would take from scratch, if cars, days and runs vary as they do in this class: as seen in its own runs or, while there are few, partly assumed."
      wide
    >
      <form action="/compare#settle" method="get" className="no-print mb-5 flex flex-wrap items-end gap-6">
        <input type="hidden" name="class" value={view.group.cruiseClassKey} />
        {view.worlds.length > 1 ? <input type="hidden" name="world" value={view.group.world} /> : null}
        {keptUnit(params)}
        {all(params, 'setup').map((slug) => (
          <input key={slug} type="hidden" name="setup" value={slug} />
        ))}
        <TextField
          name="want"
          label="Difference worth knowing, %"
          inputMode="decimal"
          defaultValue={String(wanted.percent)}
        />
        <ChoiceField
          name="power"
          label="Chance of finding it"
          kind="select"
          defaultValue={String(wanted.power)}
          options={POWERS.map((power) => ({ value: String(power), label: `${100 * power} %` }))}
        />
        <button type="submit" className={buttonClass('secondary')}>
          Work it out
        </button>
      </form>
      <DataTable
        caption={`The smallest difference that today’s runs would show with a chance of ${share}, and the driving that would show one of ${showSignificant(wanted.percent, 2, display)} %`}
        rows={view.differences}
        rowKey={(difference) => difference.setup.setupId}
        columns={[
          { key: 'setup', header: 'Setup', rowHeader: true, cell: ({ setup }) => setup.name },
          {
            key: 'detectable',
            header: 'Would show now',
            unit: '%',
            align: 'end',
            cell: ({ separation }) =>
              separation.detectablePercent === null
                ? '–'
                : showSignificant(separation.detectablePercent, 2, display),
          },
          {
            key: 'plans',
            header: `To show ${showSignificant(wanted.percent, 2, display)} %`,
            wide: true,
            cell: (difference) => <Plans difference={difference} />,
          },
        ]}
        footnote="For one difference taken alone; where there is none, one case in twenty would show one all the same. Turn the order round from session to session, so that a warming car or changing weather does not favour one setup."
      />
    </Section>
  );
}

function Plans({ difference }: { difference: SetupDifference }) {
  const { plans, cannotPlan } = difference.separation;
  if (cannotPlan !== null) return cannotPlan;
  if (plans.length === 0) return 'Not within 100 sessions or cars: ask for a larger difference.';
  return (
    <ul className="space-y-1">
      {plans.map((plan) => (
        <li key={plan.way}>
          <strong className="num font-semibold">
            {plan.runsPerSetup} runs of each in {plan.blocks} {plan.blockWord}
          </strong>
          : {plan.way}
        </li>
      ))}
    </ul>
  );
}

/** What the address says of the unit stays with it. */
function keptUnit(params: SearchParams) {
  const unit = one(params, 'unit');
  return unit === undefined ? null : <input type="hidden" name="unit" value={unit} />;
}
