import { renderToStaticMarkup } from 'react-dom/server';
import { describe, expect, it, vi } from 'vitest';
import { DayForm } from '@/app/(tester)/record/day/[sheetId]/DayForm';
import {
  formNow,
  SHEET_NAMES,
  sheetIdOfPath,
  splitSheet,
  startingSheet,
} from '@/app/(tester)/record/day/[sheetId]/sheetForm';
import type { DaySheetView } from '@/lib/registry/sessionSheets/daySheet';
import { dayFrom, runPart } from '@/lib/run/sessionSheet';
import { DEFAULT_PREFERENCES } from '@/lib/units/display';
import { completeForm } from '@/test/helpers/runForms';
import { recordView, studyView } from './recordView';

vi.mock('@/app/(tester)/record/day/[sheetId]/actions', () => ({ sendDay: async () => undefined }));

const FORM = completeForm({ carId: 'car-1', setupId: 'setup-1', loopId: 'loop-1' });
const DAY = dayFrom(FORM, true);

/** A day with a run that was sent, one that is open and one more draft. */
function dayView(changes: Partial<DaySheetView> = {}): DaySheetView {
  const { cars, loops, hasMoreLoops, units, studies, now } = recordView();
  const run = (number: number, startTime: string, form = FORM) => ({
    runId: `run-${number}`,
    number,
    status: 'draft' as const,
    form: { ...form, startedAtLocal: `2026-05-14T${startTime}` },
    isComplete: true,
  });
  const first = { ...run(1, '09:00'), status: 'submitted' as const };
  const open = run(2, '11:00', { ...FORM, chargeStart: '', odometerStart: '' });
  return {
    sheetId: 'sheet-1',
    localDate: '2026-05-14',
    day: DAY,
    seen: 7,
    runs: [first, open, run(3, '13:00')],
    open: { runId: 'run-2', number: 2, form: open.form, part: runPart(open.form, DAY), otherwise: [] },
    begunForStudyId: undefined,
    offers: [],
    isFull: false,
    nextKey: 'key-of-the-next',
    cars,
    loops,
    hasMoreLoops,
    units,
    studies,
    now,
    ...changes,
  };
}

const markup = (changes: Partial<DaySheetView> = {}) =>
  renderToStaticMarkup(<DayForm display={DEFAULT_PREFERENCES} view={dayView(changes)} />);

const control = (html: string, name: string) =>
  new RegExp(`<(?:input|select|textarea)[^>]*name="${name.replace('.', '\\.')}"[^>]*>`).exec(html)?.[0] ?? '';

describe('the page of a day', () => {
  const html = markup();

  it('has one control for every name that is kept, with an id that no other has', () => {
    expect(SHEET_NAMES.filter((name) => control(html, name) === '')).toEqual([]);
    const ids = [...html.matchAll(/ id="([^"]+)"/g)].map(([, id]) => id);
    expect(ids.filter((id, index) => ids.indexOf(id) !== index)).toEqual([]);
  });

  it('saves with its first button and offers the rest as buttons that work without scripts', () => {
    expect(/<button[^>]*type="submit"[^>]*>/.exec(html)?.[0]).toContain('value="save"');
    for (const intent of ['next', 'submit', 'submitAll', 'whole', 'open:run-3'])
      expect(html).toContain(`value="${intent}"`);
  });

  it('offers the last finish for this start, and puts nothing in unasked', () => {
    expect(html).toContain('value="take:chargeStart"');
    expect(control(html, 'chargeStart')).toContain('value=""');
    expect(html).toContain('Take 51 % from the last finish');
  });

  it('shows the runs in time order, what was sent leading to its own page', () => {
    const places = [1, 2, 3].map((number) => html.indexOf(`>Run ${number}<`));
    expect(places).toEqual(places.toSorted((a, b) => a - b));
    expect(html).toContain('href="/record/run-1"');
  });

  it('says beside a field of the run what holds for the day', () => {
    expect(html).toContain('The day: 18 °C.');
    expect(control(html, 'airTemperature')).toContain('value=""');
    expect(control(html, 'day.airTemperature')).toContain('value="18"');
  });

  it('opens the day’s part as long as something that every run needs is missing', () => {
    expect(html).not.toContain('<details open');
    expect(markup({ day: { ...DAY, loopId: '' } })).toContain('<details open');
  });

  it('proposes what the plan of the study has next for the day, over the order of the day alone', () => {
    const [car] = recordView().cars;
    const setups = [...(car?.setups ?? []), { id: 'setup-3', title: 'Ride height high' }];
    const cars = car === undefined ? [] : [{ ...car, setups }];
    const study = studyView({
      days: [['setup-1', 'setup-1', 'setup-1', 'setup-3']],
      cruiseClassKey: DAY.cruiseClassKey ?? '',
    });
    const planned = markup({ cars, studies: [study] });
    const next = /<select[^>]*name="nextSetupId".*?<\/select>/s.exec(planned)?.[0] ?? '';
    expect(next).toContain('<option value="setup-3" selected');
    expect(planned).toContain('href="/studies/low-at-110"');
    expect(planned).toContain('Next is run 4: B, Ride height high.');
    expect(markup({ cars, studies: [{ ...study, loopId: 'another' }] })).not.toContain('/studies/');
  });

  it('has no part of a run where none is open', () => {
    const empty = markup({ runs: [], open: undefined });
    expect(empty).not.toContain('id="run"');
    expect(empty).toContain('Begin the first run');
  });
});

describe('what is posted', () => {
  it('comes back as the day and the run, and makes the form that was stored', () => {
    const view = dayView();
    const starting = startingSheet(view);
    expect(splitSheet(starting).day).toMatchObject(DAY);
    const now = formNow(view, starting);
    for (const [name, text] of Object.entries(view.open?.form ?? {}))
      if (text !== '' && !name.endsWith('Unit')) expect([name, now[name]]).toEqual([name, text]);
  });

  it('leads from an issue to the control that asks for it here', () => {
    expect(sheetIdOfPath('startedAtLocal')).toBe('startTime');
    expect(sheetIdOfPath('carId')).toBe('day-carId');
    expect(sheetIdOfPath('tripEnergyUnit')).toBe('tripEnergy');
    expect(sheetIdOfPath('airTemperature')).toBe('airTemperature');
  });
});
