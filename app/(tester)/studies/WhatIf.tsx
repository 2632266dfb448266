import { Notice } from '@/app/ui/Notice';
import type { PlanFormView } from '@/lib/registry/studies/planForm';
import { planned } from '@/lib/study/makePlan';
import { ORDER_WORDS } from '@/lib/study/orders';
import { readPlanForm } from '@/lib/study/planForm';
import { planCautions, type Reckoned } from '@/lib/study/reckoning';
import type { Display } from '@/lib/units/display';
import { showNumber, showQuantity, showShare } from '@/lib/units/show';

interface WhatIfProps {
  form: Readonly<Record<string, string>>;
  view: PlanFormView;
  display: Display;
}

const CHECKLIST = [
  'The loop allows the speed, by its posted limit and by law.',
  'Every setup can be changed in the minutes between runs.',
  'Tyre pressures are within the placard in every setup.',
  'Somebody else drives, or you read displays only when parked.',
  'There is a charger that gives the same charge before each run.',
];

/** What the plan as typed takes and can say, by the functions that the server keeps it by. */
export function WhatIf({ form, view, display }: WhatIfProps) {
  const { asked, issues } = readPlanForm(form);
  const isCountable = [asked.runsADay, asked.days, asked.wantedPercent, asked.betweenRunsMin].every(
    Number.isFinite,
  );
  const found = issues.length === 0 && isCountable ? planned(asked, view.basis, view.seed) : undefined;
  return (
    <aside aria-label="What it takes" className="mt-10 lg:mt-0">
      <div className="lg:sticky lg:top-4" aria-live="polite">
        <h2 className="text-xl">What it takes</h2>
        {found === undefined ? (
          <p className="mt-2 text-ink-soft">Fill in baseline, days and runs, and it is reckoned here.</p>
        ) : found.ok ? (
          <Figures {...{ reckoned: found.reckoned, asked, view, display }} />
        ) : (
          <p className="mt-2">
            <strong>{found.what}</strong> {found.why} {found.fix}
          </p>
        )}
        <h3 className="mt-6">Before you begin</h3>
        <ul className="mt-2 space-y-1 text-sm">
          {CHECKLIST.map((line) => (
            <li key={line}>☐ {line}</li>
          ))}
        </ul>
      </div>
    </aside>
  );
}

function Figures({
  reckoned,
  asked,
  view,
  display,
}: Omit<WhatIfProps, 'form'> & { reckoned: Reckoned; asked: ReturnType<typeof readPlanForm>['asked'] }) {
  const percent = (value: number) => `${showNumber(value, 1, display)} %`;
  const hours = (seconds: number) => `${showNumber(seconds / 3600, 1, display)} h`;
  const { charging, energyWh, cost, detectablePercent, daysNeeded, orders } = reckoned;
  const cautions = planCautions(reckoned, asked);
  const lines: [string, string][] = [
    ['Runs', `${reckoned.runs} on ${asked.days} ${asked.days === 1 ? 'day' : 'days'}`],
    [
      'Shows a difference of',
      detectablePercent === null ? 'none: too few runs' : `${percent(detectablePercent)} or more`,
    ],
    [`Chance to find ${percent(asked.wantedPercent)}`, showShare(reckoned.power, display)],
    ['Days that it takes', daysNeeded === null ? 'more than anybody drives' : String(daysNeeded)],
    [
      'Driving and changing over',
      `${hours(reckoned.drivingS + reckoned.betweenS)}, ${hours((reckoned.drivingS + reckoned.betweenS) / asked.days)} a day`,
    ],
    [
      'Charging between runs',
      charging === null
        ? 'not known: no capacity, or nobody has driven it'
        : `${charging.stops} times, ${hours(charging.timeS)}${charging.isAssumedCurve ? ' by an assumed curve' : ''}`,
    ],
    ...(energyWh === null
      ? []
      : [
          [
            'Energy',
            `${showQuantity(energyWh, 'kWh', display, { decimals: 0 })}${cost === null ? '' : `, costs ${showNumber(cost, 0, display)}`}`,
          ] as [string, string],
        ]),
  ];
  return (
    <>
      <dl className="mt-2">
        {lines.map(([term, text]) => (
          <div key={term} className="border-b border-rule py-2 text-sm">
            <dt className="text-ink-soft">{term}</dt>
            <dd className="num font-medium">{text}</dd>
          </div>
        ))}
      </dl>
      <p className="mt-3 text-sm text-ink-soft">
        Order: {ORDER_WORDS[orders.kind]}.{' '}
        {view.basis.isAssumed
          ? 'How well runs repeat is assumed: this class has few.'
          : 'Reckoned from how well runs of this class repeat.'}
      </p>
      {cautions.map((caution) => (
        <Notice key={caution} kind="caution" title={caution} />
      ))}
    </>
  );
}
