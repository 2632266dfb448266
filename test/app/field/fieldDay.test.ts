import { describe, expect, it } from 'vitest';
import {
  followed,
  hasDayContent,
  lastDay,
  newFieldDay,
  runOfDay,
  withListedDays,
} from '@/app/(field)/field/fieldDay';
import { hasContent, localDay } from '@/app/(field)/field/fieldRun';
import { typed } from '@/app/(field)/field/keptForm';
import { mayForget, nextOfDay } from '@/app/(field)/field/sendPlan';
import { card, LISTS } from './cards';

const NOW_MS = Date.parse('2026-05-14T09:00:00Z');
const TODAY = localDay(NOW_MS);
const SAID = { carId: 'car-a', loopId: 'loop-a', cruiseClassKey: 'kmh-110', traffic: 'light' };
const day = (form = SAID) => newFieldDay('key-of-a-day', LISTS, { nowMs: NOW_MS, last: {}, subjects: form });
const server = (form: Record<string, string>, version = 1) => ({ sheetId: 'sheet', version, form });

describe('a day on a phone', () => {
  it('begins with what lasts of the latest one, and nothing that was read on it', () => {
    const last = {
      ...SAID,
      climate: 'off',
      placardFront: '3.1',
      placardFrontUnit: 'bar',
      airTemperature: '8',
    };
    const { form, localDate } = newFieldDay('next', LISTS, { nowMs: NOW_MS, last });
    expect(localDate).toBe(TODAY);
    expect(form).toMatchObject({ carId: 'car-a', loopId: 'loop-a', placardFront: '3.1' });
    expect([form.airTemperature, form.setupId]).toEqual([undefined, undefined]);
    expect(form.utcOffsetMin).toBe(String(-new Date(NOW_MS).getTimezoneOffset()));
    const listed = { sheetId: 's', creationKey: 'k', seen: 1 };
    const lists = [{ ...listed, localDate: '2026-05-13', day: { carId: 'car-b' } }];
    expect(lastDay([], lists)).toEqual({ carId: 'car-b' });
    expect(lastDay([day()], lists)).toMatchObject(SAID);
  });

  it('is no sheet until something is said on it', () => {
    const empty = newFieldDay('next', LISTS, { nowMs: NOW_MS, last: {} });
    expect([hasDayContent(empty), nextOfDay(empty)]).toEqual([false, 'nothing']);
    expect(nextOfDay(typed(empty, 'traffic', 'free'))).toBe('open');
  });

  it('gives its next run all that it says, with the setup and the units of the car', () => {
    const run = runOfDay(card(), day(), 'setup-2', LISTS);
    expect(run).toMatchObject({ dayKey: 'key-of-a-day', form: { ...SAID, setupId: 'setup-2' } });
    expect(run.form.tripDistanceUnit).toBe('mi');
    // What it has from the day alone is kept with the day.
    const pressed = runOfDay(card(), typed(day(), 'pressureFront', '2.9'), 'setup-2', LISTS);
    expect([hasContent(pressed, []), hasContent(typed(pressed, 'chargeStart', '80'), [])]).toEqual([
      false,
      true,
    ]);
  });

  it('is followed by what a draft has from it, and by nothing of a run that was sent in', () => {
    const run = typed(runOfDay(card(), day(), 'setup-1', LISTS), 'road', 'wet');
    const after = { ...day().form, traffic: 'free', road: 'dry' };
    expect(followed(run, day().form, after).form).toMatchObject({ traffic: 'free', road: 'wet' });
    const sent = (status: 'draft' | 'submitted' | 'changesAsked') => ({
      ...run,
      server: { runId: 'r', number: 7, version: 1, form: run.form, status },
    });
    expect(followed(sent('draft'), day().form, after).form.traffic).toBe('free');
    expect(followed(sent('submitted'), day().form, after).form.traffic).toBe('light');
    expect(followed(sent('changesAsked'), day().form, after).form.traffic).toBe('light');
  });

  it('joins what the server listed of today, merged with what was typed here', () => {
    const listed = { sheetId: 'sheet', creationKey: 'key-of-a-day', localDate: TODAY, seen: 2 };
    const days = [{ ...listed, day: { ...SAID, traffic: 'free' } }];
    const fresh = withListedDays([], { accountId: LISTS.accountId, days }, NOW_MS);
    expect(fresh).toMatchObject([{ key: 'key-of-a-day', form: { traffic: 'free' }, server: { version: 2 } }]);
    const here = { ...typed(day(), 'road', 'dry'), server: server(SAID) };
    const [merged] = withListedDays([here], { accountId: LISTS.accountId, days }, NOW_MS);
    expect(merged?.form).toMatchObject({ traffic: 'free', road: 'dry' });
    const [torn] = withListedDays(
      [{ ...typed(day(), 'traffic', 'dense'), server: server(SAID) }],
      { accountId: LISTS.accountId, days },
      NOW_MS,
    );
    expect(torn?.conflict?.form.traffic).toBe('free');
    const nextDayMs = NOW_MS + 24 * 3_600_000;
    expect(withListedDays([], { accountId: LISTS.accountId, days }, nextDayMs)).toEqual([]);
    expect(withListedDays([here], { accountId: LISTS.accountId, days: [] }, NOW_MS)).toEqual([]);
  });

  it('is let go when it is over and sent, and no run on the phone needs it', () => {
    const sent = { ...day(), server: server(day().form) };
    expect(mayForget(sent, [], TODAY)).toBe(false);
    expect(mayForget(sent, [], '2026-05-20')).toBe(true);
    expect(mayForget(sent, [card({ dayKey: sent.key })], '2026-05-20')).toBe(false);
    expect(mayForget(typed(sent, 'traffic', 'free'), [], '2026-05-20')).toBe(false);
  });
});
