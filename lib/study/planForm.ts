import { type InputIssue, InvalidInput } from '@/lib/run/errors';
import { type NumberField, parseNumbers } from '@/lib/run/numberField';
import { MOST_DAYS, RUNS_A_DAY } from './orders';

/** The form of a plan, read in the browser while it is filled in and on the server when it is sent. */

export type PlanForm = Readonly<Record<string, string>>;

const number = (
  name: string,
  label: string,
  hint: string,
  range: readonly [number, number],
  isRequired = true,
): NumberField => ({ name, label, hint, units: [], isRequired, range });

export const PLAN_NUMBERS = {
  wantedPercent: number(
    'wantedPercent',
    'Difference worth knowing, %',
    'How small a difference in consumption would still matter to you? A smaller one takes more days.',
    [0.1, 50],
  ),
  runsADay: number(
    'runsADay',
    'Runs a day',
    'One run is once round the loop. Two or three are a usual day; four let every setup be driven twice.',
    RUNS_A_DAY,
  ),
  days: number('days', 'Days', 'On how many days you will drive.', [1, MOST_DAYS]),
  betweenRunsMin: number(
    'betweenRunsMin',
    'Minutes between runs',
    'Changing the setup, reading the display, photos.',
    [0, 240],
  ),
  everyDays: number(
    'everyDays',
    'Days from one to the next',
    '7 is the same day of each week.',
    [1, 60],
    false,
  ),
  pricePerKwh: number(
    'pricePerKwh',
    'Price of a kWh',
    'In your currency. Leave it empty where it does not matter.',
    [0, 100],
    false,
  ),
} as const satisfies Record<string, NumberField>;

export const POWERS = [
  { value: '0.8', label: 'Four times in five' },
  { value: '0.9', label: 'Nine times in ten' },
] as const;

export const PLAN_DEFAULTS: PlanForm = {
  wantedPercent: '2',
  power: '0.8',
  runsADay: '4',
  days: '4',
  betweenRunsMin: '15',
  everyDays: '7',
};

const SETUP = 'setup.';

/** The name of the box that takes a setup into the study. */
export function setupFieldName(setupId: string): string {
  return `${SETUP}${setupId}`;
}

export interface PlanAsked {
  question: string;
  baselineId: string;
  /** Without the baseline. */
  otherIds: string[];
  wantedPercent: number;
  power: number;
  runsADay: number;
  days: number;
  betweenRunsMin: number;
  pricePerKwh: number | null;
  calendar: { firstDay: string; everyDays: number } | null;
}

/** More setups than a study compares. */
const MOST_SETUPS = 8;

/** What can be read of the form, and what is wrong with it. */
export function readPlanForm(form: PlanForm): { asked: PlanAsked; issues: InputIssue[] } {
  const fields = Object.values(PLAN_NUMBERS);
  const { values, issues } = parseNumbers(form, fields);
  const of = (name: keyof typeof PLAN_NUMBERS) => values[name] ?? Number.NaN;
  for (const name of ['runsADay', 'days', 'everyDays'] as const) {
    const value = values[name];
    if (value !== undefined && !Number.isInteger(value)) {
      issues.push({
        path: name,
        what: 'That is no whole number.',
        why: 'Days and runs are counted.',
        fix: 'Enter a whole number.',
      });
    }
  }
  const baselineId = form.baselineId ?? '';
  const otherIds = Object.entries(form).flatMap(([name, value]) => {
    const id = name.slice(SETUP.length);
    return name.startsWith(SETUP) && value === 'yes' && id !== baselineId ? [id] : [];
  });
  if (baselineId === '') {
    issues.push({
      path: 'baselineId',
      what: 'No baseline is chosen.',
      why: 'Every difference is a difference from something.',
      fix: 'Choose the setup that the others are held against, for example the car as delivered.',
    });
  }
  if (otherIds.length > MOST_SETUPS) {
    issues.push({
      path: 'setups',
      what: `More than ${MOST_SETUPS} setups are chosen beside the baseline.`,
      why: 'Each takes days of its own.',
      fix: 'Leave some for another study.',
    });
  }
  const power = POWERS.find(({ value }) => value === form.power)?.value ?? POWERS[0].value;
  const firstDay = (form.firstDay ?? '').trim();
  if (firstDay !== '' && !isDay(firstDay)) {
    issues.push({
      path: 'firstDay',
      what: `“${firstDay.slice(0, 20)}” is no day.`,
      why: 'The calendar starts with it.',
      fix: 'Enter it as year-month-day, for example 2026-12-31, or leave it empty.',
    });
  }
  return {
    asked: {
      question: form.question ?? '',
      baselineId,
      otherIds,
      wantedPercent: of('wantedPercent'),
      power: Number(power),
      runsADay: of('runsADay'),
      days: of('days'),
      betweenRunsMin: of('betweenRunsMin'),
      pricePerKwh: values.pricePerKwh ?? null,
      calendar: isDay(firstDay) ? { firstDay, everyDays: values.everyDays ?? 1 } : null,
    },
    issues,
  };
}

/** The same, or everything that is wrong with it. */
export function parsePlanForm(form: PlanForm): PlanAsked {
  const { asked, issues } = readPlanForm(form);
  if (issues.length > 0) throw new InvalidInput(issues);
  return asked;
}

function isDay(text: string): boolean {
  const time = new Date(`${text}T00:00:00Z`).getTime();
  return /^[12]\d{3}-\d{2}-\d{2}$/.test(text) && new Date(time || 0).toISOString().slice(0, 10) === text;
}

/** A plan as its form would have been filled in. */
export function formOfPlan(
  plan: Omit<PlanAsked, 'otherIds' | 'days'> & { setupIds: readonly string[]; days: readonly unknown[] },
): PlanForm {
  return {
    question: plan.question,
    baselineId: plan.baselineId,
    ...Object.fromEntries(plan.setupIds.map((id) => [setupFieldName(id), 'yes'])),
    wantedPercent: String(plan.wantedPercent),
    power: String(plan.power),
    runsADay: String(plan.runsADay),
    days: String(plan.days.length),
    betweenRunsMin: String(plan.betweenRunsMin),
    pricePerKwh: plan.pricePerKwh === null ? '' : String(plan.pricePerKwh),
    firstDay: plan.calendar?.firstDay ?? '',
    everyDays: String(plan.calendar?.everyDays ?? PLAN_DEFAULTS.everyDays),
  };
}
