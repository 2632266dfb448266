import 'fake-indexeddb/auto';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type FieldDay, newFieldDay, runOfDay } from '@/app/(field)/field/fieldDay';
import type { FieldRun } from '@/app/(field)/field/fieldRun';
import { conflictSettled, isSameForm, typed } from '@/app/(field)/field/keptForm';
import {
  changeDay,
  changeRun,
  forgetCurrent,
  keepDay,
  keepLists,
  keepPhoto,
  keepRun,
  keepUnit,
  keptLists,
  openPhone,
  type Phone,
  photosOf,
  runsOf,
  wipeAccount,
  wipeRun,
} from '@/app/(field)/field/phone';
import { sendKept } from '@/app/(field)/field/sendKept';
import { dayState, keptState } from '@/app/(field)/field/sendPlan';
import type { RunForm } from '@/lib/run/runForm';
import { DAY_NAMES, withDay } from '@/lib/run/sessionSheet';
import { card, LISTS, photo } from './cards';

let phones = 0;
const freshPhone = (): Promise<Phone> => openPhone(`phone-${phones++}`);

type Trouble = 'none' | 'requestLost' | 'answerLost' | 'signedOut' | 'fault';

/** A server that keeps the same promises as the real one: one run a key, versions, one photo a content. */
class Server {
  runs = new Map<
    string,
    { id: string; number: number; version: number; form: RunForm; status: string; sheetId?: string }
  >();
  sheets = new Map<string, { id: string; version: number; form: RunForm }>();
  photos = new Map<string, Set<string>>();
  calls: string[] = [];
  troubles: Trouble[] = [];

  send: typeof fetch = async (address, init) => {
    const trouble = this.troubles.shift() ?? 'none';
    this.calls.push(`${init?.method ?? 'GET'} ${String(address)}`);
    if (trouble === 'requestLost') throw new TypeError('network');
    if (trouble === 'signedOut') return Response.json({ title: 'Sign in first.' }, { status: 401 });
    if (trouble === 'fault') return new Response('<html>', { status: 502 });
    const answer = await this.answer(String(address), init);
    if (trouble === 'answerLost') throw new TypeError('network');
    return answer;
  };

  private async answer(address: string, init?: RequestInit): Promise<Response> {
    if (address === '/api/field/days') {
      const { creationKey, form } = JSON.parse(String(init?.body));
      const known = this.sheets.get(creationKey);
      const sheet = known ?? { id: `sheet-${this.sheets.size + 1}`, version: 1, form };
      this.sheets.set(creationKey, sheet);
      return Response.json(this.sheet(sheet), { status: 201 });
    }
    if (address.startsWith('/api/session-sheets/')) {
      const sheet = [...this.sheets.values()].find(({ id }) => address.endsWith(`/${id}`));
      if (sheet === undefined) return Response.json({ title: 'There is none.' }, { status: 404 });
      if (init?.method !== 'PUT') return Response.json(this.sheet(sheet));
      const { seen, day } = JSON.parse(String(init.body));
      if (seen !== sheet.version) return Response.json({}, { status: 409 });
      this.saySheet(sheet, day);
      return Response.json({ seen: sheet.version });
    }
    if (address === '/api/field/runs') {
      const { creationKey, form, sheetId } = JSON.parse(String(init?.body));
      const number = this.runs.size + 1;
      const known = this.runs.get(creationKey);
      const run = known ?? { id: `run-${number}`, number, version: 1, form, status: 'draft', sheetId };
      this.runs.set(creationKey, run);
      return Response.json(this.draft(run), { status: 201 });
    }
    const id = /runs\/([^/]+)/.exec(address)?.[1];
    const run = [...this.runs.values()].find((one) => one.id === id);
    if (run === undefined) return Response.json({ title: 'There is none.' }, { status: 404 });
    if (address.endsWith('/draft')) {
      const { draftVersion, form } = JSON.parse(String(init?.body));
      if (draftVersion !== run.version || run.status !== 'draft') return Response.json({}, { status: 409 });
      Object.assign(run, { form, version: run.version + 1 });
      return Response.json({ draftVersion: run.version });
    }
    if (address.endsWith('/evidence')) {
      const body = init?.body as FormData;
      const kept = this.photos.get(run.id) ?? new Set();
      for (const [kind, file] of body) {
        kept.add(`${kind} ${new Uint8Array(await (file as File).arrayBuffer()).join()}`);
      }
      this.photos.set(run.id, kept);
      return Response.json({ photos: [] }, { status: 201 });
    }
    return Response.json(this.draft(run));
  }

  /** The sheet says something else, and the drafts on it follow. */
  saySheet(sheet: { id: string; version: number; form: RunForm }, form: RunForm): void {
    for (const run of this.runs.values()) {
      if (run.sheetId !== sheet.id || run.status !== 'draft') continue;
      const followed = withDay(run.form, sheet.form, form);
      if (isSameForm(followed, run.form)) continue;
      Object.assign(run, { form: followed, version: run.version + 1 });
    }
    Object.assign(sheet, { form, version: sheet.version + 1 });
  }

  private sheet({ id, version, form }: { id: string; version: number; form: RunForm }) {
    return { sheetId: id, seen: version, day: form, run: {}, isEditable: true };
  }

  private draft(run: { id: string; number: number; version: number; form: RunForm; status: string }) {
    const { id, number, version, form, status } = run;
    return { runId: id, number, draftVersion: version, form, status, isEditable: status === 'draft' };
  }

  only() {
    const [run] = [...this.runs.values()];
    if (run === undefined || this.runs.size !== 1) throw new Error(`${this.runs.size} runs`);
    return run;
  }
}

async function phoneWith(run: FieldRun): Promise<Phone> {
  const phone = await freshPhone();
  await keepRun(phone, run);
  return phone;
}

const KEY = card().key;
const type = (phone: Phone, name: string, value: string) =>
  changeRun(phone, KEY, (run) => typed(run, name, value));
const kept = async (phone: Phone) => {
  const run = await phone.get('runs', KEY);
  if (run === undefined) throw new Error('no run');
  return run;
};

describe('sending what a phone keeps', () => {
  it('opens the run, saves what was typed since, sends each photo once and then nothing more', async () => {
    const phone = await phoneWith(typed(card(), 'chargeStart', '80'));
    await keepPhoto(phone, photo());
    const server = new Server();
    expect(await sendKept(phone, LISTS.accountId, server.send)).toBe('done');
    await type(phone, 'chargeEnd', '51');
    expect(await sendKept(phone, LISTS.accountId, server.send)).toBe('done');
    expect(await sendKept(phone, LISTS.accountId, server.send)).toBe('done');
    expect(server.calls).toEqual([
      'POST /api/field/runs',
      'POST /api/runs/run-1/evidence',
      'PUT /api/runs/run-1/draft',
    ]);
    expect(server.only().form).toMatchObject({ chargeStart: '80', chargeEnd: '51' });
    expect(keptState(await kept(phone), await photosOf(phone, KEY))).toBe('sent');
  });

  it('takes a lost answer for what it is, though more was typed meanwhile', async () => {
    const phone = await phoneWith(typed(card(), 'chargeStart', '80'));
    const server = new Server();
    server.troubles = ['answerLost', 'requestLost', 'none', 'answerLost'];
    expect(await sendKept(phone, LISTS.accountId, server.send)).toBe('offline');
    await type(phone, 'chargeStart', '81');
    expect(await sendKept(phone, LISTS.accountId, server.send)).toBe('offline');
    await type(phone, 'chargeEnd', '50');
    expect(await sendKept(phone, LISTS.accountId, server.send)).toBe('offline');
    await type(phone, 'chargeEnd', '51');
    expect(await sendKept(phone, LISTS.accountId, server.send)).toBe('done');
    expect(server.only().form).toMatchObject({ chargeStart: '81', chargeEnd: '51' });
    expect((await kept(phone)).conflict).toBeUndefined();
  });

  it('takes over what was changed elsewhere in other fields, by itself', async () => {
    const phone = await phoneWith(typed(card(), 'chargeStart', '80'));
    const server = new Server();
    await sendKept(phone, LISTS.accountId, server.send);
    const { form } = server.only();
    Object.assign(server.only(), { form: { ...form, chargeStart: '70', notes: 'at a desk' }, version: 2 });
    await type(phone, 'chargeEnd', '51');
    expect(await sendKept(phone, LISTS.accountId, server.send)).toBe('done');
    const all = { chargeStart: '70', chargeEnd: '51', notes: 'at a desk' };
    expect(server.only().form).toMatchObject(all);
    expect((await kept(phone)).form).toMatchObject(all);
  });

  it('asks where the same field was changed elsewhere, and sends only what was chosen', async () => {
    const phone = await phoneWith(typed(card(), 'chargeStart', '80'));
    const server = new Server();
    await sendKept(phone, LISTS.accountId, server.send);
    const { form } = server.only();
    Object.assign(server.only(), { form: { ...form, chargeStart: '70', notes: 'at a desk' }, version: 2 });
    await type(phone, 'chargeStart', '81');
    expect(await sendKept(phone, LISTS.accountId, server.send)).toBe('done');
    expect((await kept(phone)).conflict?.form).toMatchObject({ chargeStart: '70' });
    await sendKept(phone, LISTS.accountId, server.send);
    expect(server.only().form.chargeStart).toBe('70');
    await changeRun(phone, KEY, (run) => conflictSettled(run, new Map([['chargeStart', 'mine']])));
    await sendKept(phone, LISTS.accountId, server.send);
    expect(server.only().form).toMatchObject({ chargeStart: '81', notes: 'at a desk' });
  });

  it('says that a run submitted elsewhere is closed', async () => {
    const phone = await phoneWith(typed(card(), 'chargeStart', '80'));
    const server = new Server();
    await sendKept(phone, LISTS.accountId, server.send);
    server.only().status = 'submitted';
    await type(phone, 'chargeStart', '81');
    await sendKept(phone, LISTS.accountId, server.send);
    expect((await kept(phone)).conflict).toMatchObject({ isEditable: false, form: { chargeStart: '80' } });
  });

  it.each([
    ['signedOut', 'signedOut'],
    ['fault', 'offline'],
    ['requestLost', 'offline'],
  ] as const)('keeps everything when %s', async (trouble, round) => {
    const phone = await phoneWith(typed(card(), 'chargeStart', '80'));
    await keepPhoto(phone, photo());
    const server = new Server();
    server.troubles = ['none', trouble];
    expect(await sendKept(phone, LISTS.accountId, server.send)).toBe(round);
    expect((await photosOf(phone, KEY)).map(({ sentAtMs }) => sentAtMs)).toEqual([undefined]);
    expect(await sendKept(phone, LISTS.accountId, server.send)).toBe('done');
    expect(server.photos.get('run-1')?.size).toBe(1);
  });

  it('keeps what the server will not take, says why, and tries again after a change', async () => {
    const phone = await phoneWith(typed(card(), 'chargeStart', '80'));
    let answers = 0;
    const refusing: typeof fetch = async () => {
      answers += 1;
      return Response.json({ title: 'No.', issues: [{ what: 'Too long.' }] }, { status: 422 });
    };
    await sendKept(phone, LISTS.accountId, refusing);
    await sendKept(phone, LISTS.accountId, refusing);
    expect(answers).toBe(1);
    expect((await kept(phone)).refusal?.message).toBe('Too long.');
    await type(phone, 'chargeStart', '79');
    const server = new Server();
    await sendKept(phone, LISTS.accountId, server.send);
    expect(server.only().form.chargeStart).toBe('79');
  });

  it('ends, whatever gets lost, with one run, the last typed form and each photo once', async () => {
    const trouble = fc.constantFrom<Trouble>('none', 'requestLost', 'answerLost', 'fault');
    const step = fc.oneof(
      fc.record({ kind: fc.constant('type' as const), value: fc.integer({ min: 0, max: 3 }) }),
      fc.record({ kind: fc.constant('photo' as const), value: fc.integer({ min: 0, max: 2 }) }),
      fc.record({ kind: fc.constant('send' as const), troubles: fc.array(trouble, { maxLength: 4 }) }),
    );
    await fc.assert(
      fc.asyncProperty(fc.array(step, { minLength: 1, maxLength: 12 }), async (steps) => {
        const phone = await phoneWith(typed(card(), 'chargeStart', '80'));
        const server = new Server();
        const photos = new Set<number>();
        for (const one of steps) {
          if (one.kind === 'type') await type(phone, 'tripDistance', String(one.value || ''));
          else if (one.kind === 'photo') {
            photos.add(one.value);
            await keepPhoto(phone, photo({ id: `p${one.value}`, bytes: new Uint8Array([one.value]) }));
          } else {
            server.troubles = [...one.troubles];
            await sendKept(phone, LISTS.accountId, server.send);
          }
        }
        server.troubles = [];
        expect(await sendKept(phone, LISTS.accountId, server.send)).toBe('done');
        const run = await kept(phone);
        expect(run.conflict).toBeUndefined();
        expect(isSameForm(server.only().form, run.form)).toBe(true);
        expect(server.photos.get('run-1')?.size ?? 0).toBe(photos.size);
        phone.close();
      }),
      { numRuns: 60 },
    );
  });
});

describe('the sheet of a day on a phone', () => {
  const SAID = { carId: 'car-a', loopId: 'loop-a', cruiseClassKey: 'kmh-110', traffic: 'light' };

  async function phoneWithDay(): Promise<{ phone: Phone; begin: (key: string) => Promise<void> }> {
    const phone = await freshPhone();
    const day = newFieldDay('key-of-a-day', LISTS, { nowMs: 1000, last: {}, subjects: SAID });
    await keepDay(phone, day);
    const begin = async (key: string) => {
      const now = (await phone.get('days', day.key)) ?? day;
      const run = typed(runOfDay(card({ key }), now, 'setup-1', LISTS), 'chargeStart', '80');
      await keepRun(phone, run);
    };
    return { phone, begin };
  }
  const say = (phone: Phone, name: string, value: string) =>
    changeDay(phone, 'key-of-a-day', (day) => typed(day, name, value));
  const keptDay = async (phone: Phone): Promise<FieldDay> => {
    const day = await phone.get('days', 'key-of-a-day');
    if (day === undefined) throw new Error('no day');
    return day;
  };
  const sent = (phone: Phone, server: Server) => sendKept(phone, LISTS.accountId, server.send);
  const sheetOf = (server: Server) => {
    const sheet = server.sheets.get('key-of-a-day');
    if (sheet === undefined) throw new Error('no sheet');
    return sheet;
  };

  it('is opened before its runs, which stand on it, and is sent once', async () => {
    const { phone, begin } = await phoneWithDay();
    await begin('run-a');
    const server = new Server();
    expect(await sent(phone, server)).toBe('done');
    expect(await sent(phone, server)).toBe('done');
    expect(server.calls).toEqual([
      'POST /api/field/days',
      'GET /api/session-sheets/sheet-1',
      'POST /api/field/runs',
    ]);
    expect(server.only()).toMatchObject({ sheetId: 'sheet-1', form: { ...SAID, chargeStart: '80' } });
    expect(dayState(await keptDay(phone))).toBe('sent');
  });

  it('keeps what was changed without a signal and takes the runs along, but for what they say otherwise', async () => {
    const { phone, begin } = await phoneWithDay();
    await begin('run-a');
    await begin('run-b');
    const server = new Server();
    await sent(phone, server);
    await changeRun(phone, 'run-b', (run) => typed(run, 'traffic', 'dense'));
    await say(phone, 'traffic', 'free');
    server.troubles = ['requestLost'];
    expect(await sent(phone, server)).toBe('offline');
    await begin('run-c');
    expect(await sent(phone, server)).toBe('done');
    expect(sheetOf(server).form.traffic).toBe('free');
    const traffic = (key: string) => server.runs.get(key)?.form.traffic;
    expect(['run-a', 'run-b', 'run-c'].map(traffic)).toEqual(['free', 'dense', 'free']);
    for (const run of await runsOf(phone, LISTS.accountId)) {
      expect([run.conflict, keptState(run, [])]).toEqual([undefined, 'sent']);
    }
  });

  it('is merged field by field with what was changed elsewhere, and a run begun since has both', async () => {
    const { phone, begin } = await phoneWithDay();
    const server = new Server();
    await sent(phone, server);
    const sheet = sheetOf(server);
    server.saySheet(sheet, { ...sheet.form, precipitation: 'dry' });
    await say(phone, 'traffic', 'free');
    await begin('run-a');
    expect(await sent(phone, server)).toBe('done');
    expect(sheet.form).toMatchObject({ traffic: 'free', precipitation: 'dry' });
    expect((await keptDay(phone)).taken).toEqual(['precipitation']);
    expect(server.only().form).toMatchObject({ traffic: 'free', precipitation: 'dry' });
  });

  it('is looked up before a run is opened on it, so that the run has what it says by now', async () => {
    const { phone, begin } = await phoneWithDay();
    const server = new Server();
    await sent(phone, server);
    await begin('run-a');
    server.saySheet(sheetOf(server), { ...sheetOf(server).form, traffic: 'dense' });
    await sent(phone, server);
    expect(server.only().form.traffic).toBe('dense');
    expect((await keptDay(phone)).form.traffic).toBe('dense');
  });

  it('asks where both changed the same field or one emptied it, and its runs follow the answer', async () => {
    const { phone, begin } = await phoneWithDay();
    await begin('run-a');
    const server = new Server();
    await sent(phone, server);
    const sheet = sheetOf(server);
    const { precipitation: _emptied, ...rest } = sheet.form;
    server.saySheet(sheet, { ...rest, traffic: 'dense' });
    await say(phone, 'traffic', 'free');
    await sent(phone, server);
    expect((await keptDay(phone)).conflict?.form.traffic).toBe('dense');
    expect(sheet.form.traffic).toBe('dense');
    // Once, on the day: the run waits and asks nothing of its own.
    expect((await runsOf(phone, LISTS.accountId))[0]).toMatchObject({ form: { traffic: 'free' } });
    expect((await runsOf(phone, LISTS.accountId))[0]?.conflict).toBeUndefined();
    await changeDay(phone, 'key-of-a-day', (day) =>
      conflictSettled(day, new Map([['traffic', 'mine']]), DAY_NAMES),
    );
    await sent(phone, server);
    expect(sheet.form.traffic).toBe('free');
    expect(server.only().form.traffic).toBe('free');
    expect((await runsOf(phone, LISTS.accountId))[0]?.conflict).toBeUndefined();
    // Emptied elsewhere: asked as well, never emptied here unasked.
    const { traffic: _gone, ...empty } = sheet.form;
    server.saySheet(sheet, empty);
    await say(phone, 'precipitation', 'dry');
    await sent(phone, server);
    const day = await keptDay(phone);
    expect([day.form.traffic, day.conflict !== undefined]).toEqual(['free', true]);
  });

  it('never reaches a run that was sent in, nor asks about it', async () => {
    const { phone, begin } = await phoneWithDay();
    await begin('run-a');
    const server = new Server();
    await sent(phone, server);
    const before = { ...server.only().form };
    server.only().status = 'submitted';
    await say(phone, 'traffic', 'free');
    await sent(phone, server);
    expect(server.only().form).toEqual(before);
    const [run] = await runsOf(phone, LISTS.accountId);
    expect([run?.conflict, run?.form.traffic]).toEqual([undefined, 'light']);
    await say(phone, 'traffic', 'dense');
    expect((await runsOf(phone, LISTS.accountId))[0]?.form.traffic).toBe('light');
    await changeRun(phone, 'run-a', (now) => typed(now, 'chargeStart', '81'));
    await sent(phone, server);
    expect((await runsOf(phone, LISTS.accountId))[0]?.conflict).toMatchObject({ isEditable: false });
  });

  it('ends, whatever gets lost, with one sheet and runs that say what was typed last', async () => {
    const trouble = fc.constantFrom<Trouble>('none', 'requestLost', 'answerLost', 'fault');
    const step = fc.oneof(
      fc.record({ kind: fc.constant('say' as const), value: fc.constantFrom('free', 'light', 'dense') }),
      fc.record({ kind: fc.constant('otherwise' as const), value: fc.constantFrom('free', 'dense') }),
      fc.record({ kind: fc.constant('begin' as const) }),
      fc.record({ kind: fc.constant('send' as const), troubles: fc.array(trouble, { maxLength: 5 }) }),
    );
    await fc.assert(
      fc.asyncProperty(fc.array(step, { minLength: 1, maxLength: 12 }), async (steps) => {
        const { phone, begin } = await phoneWithDay();
        const server = new Server();
        for (const [at, one] of steps.entries()) {
          if (one.kind === 'say') await say(phone, 'traffic', one.value);
          else if (one.kind === 'begin') await begin(`run-${at}`);
          else if (one.kind === 'otherwise') {
            const [run] = await runsOf(phone, LISTS.accountId);
            if (run) await changeRun(phone, run.key, (now) => typed(now, 'traffic', one.value));
          } else {
            server.troubles = [...one.troubles];
            await sent(phone, server);
          }
        }
        server.troubles = [];
        expect(await sent(phone, server)).toBe('done');
        const day = await keptDay(phone);
        expect(day.conflict).toBeUndefined();
        expect(server.sheets.size).toBe(1);
        expect(isSameForm(sheetOf(server).form, day.form, DAY_NAMES)).toBe(true);
        const runs = await runsOf(phone, LISTS.accountId);
        expect(server.runs.size).toBe(runs.length);
        for (const run of runs) {
          expect(run.conflict).toBeUndefined();
          expect(isSameForm(server.runs.get(run.key)?.form ?? {}, run.form)).toBe(true);
        }
        phone.close();
      }),
      { numRuns: 40 },
    );
  });
});

describe('what a phone keeps', () => {
  it('is there after it was closed, photos and clock too', async () => {
    const name = `phone-${phones++}`;
    const first = await openPhone(name);
    await keepLists(first, LISTS);
    await keepRun(first, typed(card({ startedAtMs: 123 }), 'chargeStart', '80'));
    await keepPhoto(first, photo());
    first.close();
    const again = await openPhone(name);
    expect(await keptLists(again)).toEqual(LISTS);
    expect(await kept(again)).toMatchObject({ startedAtMs: 123, form: { chargeStart: '80' } });
    expect((await photosOf(again, KEY))[0]?.bytes).toEqual(new Uint8Array([1, 2, 3]));
  });

  it('loses nothing when two windows type at once', async () => {
    const phone = await phoneWith(card());
    await Promise.all([
      type(phone, 'chargeStart', '80'),
      type(phone, 'tripDistance', '66.8'),
      type(phone, 'notes', 'x'),
    ]);
    expect((await kept(phone)).form).toMatchObject({ chargeStart: '80', tripDistance: '66.8', notes: 'x' });
  });

  it('keeps accounts apart, sends one’s own alone and wipes one’s own alone', async () => {
    const phone = await phoneWith(typed(card(), 'chargeStart', '80'));
    const other = { ...LISTS, accountId: 'other', displayName: 'Jonas Reet' };
    await keepRun(phone, { ...typed(card(), 'chargeStart', '60'), key: 'other-key', accountId: 'other' });
    await keepPhoto(phone, photo({ id: 'theirs', runKey: 'other-key', accountId: 'other' }));
    await keepLists(phone, LISTS);
    await keepLists(phone, other);
    expect((await keptLists(phone))?.displayName).toBe('Jonas Reet');
    expect((await runsOf(phone, LISTS.accountId)).map(({ key }) => key)).toEqual([KEY]);
    const server = new Server();
    await sendKept(phone, LISTS.accountId, server.send);
    expect([...server.runs.keys()]).toEqual([KEY]);
    await wipeAccount(phone, LISTS.accountId);
    expect(await runsOf(phone, LISTS.accountId)).toEqual([]);
    expect(await runsOf(phone, 'other')).toHaveLength(1);
    expect(await photosOf(phone, 'other-key')).toHaveLength(1);
    expect(await keptLists(phone)).toBeUndefined();
  });

  it('shows nobody’s runs once nobody is signed in, and keeps them', async () => {
    const phone = await phoneWith(card());
    await keepLists(phone, LISTS);
    await forgetCurrent(phone);
    expect(await keptLists(phone)).toBeUndefined();
    expect(await runsOf(phone, LISTS.accountId)).toHaveLength(1);
  });

  it('remembers the unit of a car’s display', async () => {
    const phone = await freshPhone();
    await keepLists(phone, LISTS);
    await keepUnit(phone, LISTS.accountId, 'car-b', 'tripDistance', 'mi');
    expect((await keptLists(phone))?.cars.map(({ units }) => units.tripDistance)).toEqual(['mi', 'mi']);
  });

  it('has the same photo once, and loses a removed run with its photos', async () => {
    const phone = await phoneWith(card());
    await keepPhoto(phone, photo({ sentAtMs: 9 }));
    await keepPhoto(phone, photo());
    expect((await photosOf(phone, KEY)).map(({ sentAtMs }) => sentAtMs)).toEqual([9]);
    await wipeRun(phone, KEY);
    expect([await phone.count('runs'), await phone.count('photos')]).toEqual([0, 0]);
  });
});
