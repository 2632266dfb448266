'use client';

import { useCallback, useEffect, useRef, useState } from 'react';
import type { FieldLists } from '@/lib/registry/runs/fieldCard';
import type { RunForm } from '@/lib/run/runForm';
import { type FieldDay, followed, lastDay, newFieldDay, withListedDays } from './fieldDay';
import { type FieldPhoto, type FieldRun, localDay, newFieldRun } from './fieldRun';
import { keepShell } from './keepShell';
import {
  changeDay,
  changeRun,
  daysOf,
  dropDay,
  dropPhoto,
  forgetCurrent,
  keepDay,
  keepLists,
  keepPhoto,
  keepRun,
  keptLists,
  openPhone,
  type Phone,
  photosOf,
  runsOf,
  wipeRun,
} from './phone';
import { type Round, sendKept } from './sendKept';
import { mayForget } from './sendPlan';
import { forgetUnwritten, noteUnwritten, unwrittenOf } from './unwritten';

export interface KeptRun {
  run: FieldRun;
  photos: FieldPhoto[];
}

/**
 * `stranger`: nobody is signed in. `unknown`: no signal, and this phone was never used signed in. `otherWindow`: one of
 * an earlier version is still open.
 */
export type FieldStatus = 'opening' | 'ready' | 'stranger' | 'unknown' | 'noStorage' | 'otherWindow';

export interface Field {
  status: FieldStatus;
  phone: Phone | undefined;
  lists: FieldLists | undefined;
  runs: readonly KeptRun[];
  /** The latest first. */
  days: readonly FieldDay[];
  /** How the last attempt to send ended. */
  round: Round | undefined;
  /** The page itself opens without a signal. */
  isShellKept: boolean;
  /** A new run, made ready by what the plan of a study has next where one is asked for. */
  begin: (prepare?: (run: FieldRun, lists: FieldLists) => FieldRun) => Promise<FieldRun | undefined>;
  /** A new day of today's, of these things where they are known already. */
  beginDay: (subjects?: RunForm) => Promise<FieldDay | undefined>;
  change: (key: string, change: (run: FieldRun) => FieldRun) => void;
  /** What the day says changes, and with it what its runs have from it. */
  changeDay: (key: string, change: (day: FieldDay) => FieldDay) => void;
  addPhoto: (photo: FieldPhoto) => Promise<void>;
  removePhoto: (id: string) => Promise<void>;
  wipe: (key: string) => Promise<void>;
  send: () => void;
}

interface Shown {
  runs: readonly KeptRun[];
  days: readonly FieldDay[];
}

const PAUSE_MS = 1500;
const EVERY_MS = 30_000;

/** What the phone keeps, held together with what the server has: every change is on the phone first. */
export function useField(): Field {
  const [status, setStatus] = useState<FieldStatus>('opening');
  const [lists, setLists] = useState<FieldLists>();
  const [kept, setKept] = useState<Shown>({ runs: [], days: [] });
  const [round, setRound] = useState<Round>();
  const [isShellKept, setShellKept] = useState(false);
  const phone = useRef<Phone>(undefined);
  const accountId = lists?.accountId;
  // Counts what was typed: what was read before it is out of date and is read again.
  const typing = useRef({ count: 0, pending: 0 });
  // What was last shown or typed: ahead of the state until the next rendering.
  const shown = useRef<Shown>(kept);
  const show = useCallback((now: Shown) => {
    shown.current = now;
    setKept(now);
  }, []);

  const read = useCallback(async () => {
    const db = phone.current;
    if (db === undefined || accountId === undefined) return;
    if (typing.current.pending === 0) await writeUnwritten(db, accountId);
    for (;;) {
      const { count } = typing.current;
      const runs: KeptRun[] = [];
      for (const run of await runsOf(db, accountId)) runs.push({ run, photos: await photosOf(db, run.key) });
      const days = (await daysOf(db, accountId)).toSorted((a, b) => b.createdAtMs - a.createdAtMs);
      if (typing.current.pending > 0) return;
      if (typing.current.count === count) return show({ runs, days });
    }
  }, [accountId, show]);

  const send = useCallback(async () => {
    const db = phone.current;
    if (db === undefined || accountId === undefined) return;
    if (!navigator.onLine) return setRound('offline');
    const ended = await alone(() => sendKept(db, accountId, fetch));
    if (ended !== undefined) setRound(ended);
    await read();
  }, [accountId, read]);

  useEffect(() => {
    const open = async () => {
      try {
        phone.current = await openPhone(undefined, () => setStatus('otherWindow'));
      } catch {
        return setStatus('noStorage');
      }
      const found = await listsFor(phone.current);
      setLists(typeof found === 'string' ? undefined : found);
      setStatus(typeof found === 'string' ? found : 'ready');
      void navigator.storage?.persist?.();
      setShellKept(await keepShell());
    };
    void open();
  }, []);

  useEffect(() => {
    void read().then(send);
    const timer = setInterval(send, EVERY_MS);
    const whenVisible = () => {
      if (document.visibilityState === 'visible') void read().then(send);
    };
    window.addEventListener('online', send);
    document.addEventListener('visibilitychange', whenVisible);
    return () => {
      clearInterval(timer);
      window.removeEventListener('online', send);
      document.removeEventListener('visibilitychange', whenVisible);
    };
  }, [read, send]);

  const pause = useRef<ReturnType<typeof setTimeout>>(undefined);
  const sendSoon = useCallback(() => {
    clearTimeout(pause.current);
    pause.current = setTimeout(send, PAUSE_MS);
  }, [send]);

  /** Shown and noted at once; `write` puts it into the database. */
  const typedHere = useCallback(
    (next: Shown, changed: FieldRun | FieldDay | undefined, write: () => Promise<unknown>) => {
      typing.current.count += 1;
      typing.current.pending += 1;
      show(next);
      if (changed !== undefined) noteUnwritten(localStorage, changed);
      void write()
        .then(() => {
          // A later keystroke has noted more than this one wrote: its own writing lets go of the note.
          if (changed !== undefined && typing.current.pending === 1) forgetUnwritten(localStorage, changed);
        })
        .finally(() => {
          typing.current.pending -= 1;
          if (typing.current.pending === 0) void read();
        });
      sendSoon();
    },
    [read, sendSoon, show],
  );

  const change = useCallback(
    (key: string, apply: (run: FieldRun) => FieldRun) => {
      const db = phone.current;
      if (db === undefined) return;
      const { runs, days } = shown.current;
      const next = runs.map((one) => (one.run.key === key ? { ...one, run: apply(one.run) } : one));
      const changed = next.find(({ run }) => run.key === key)?.run;
      typedHere({ runs: next, days }, changed, () => changeRun(db, key, apply));
    },
    [typedHere],
  );

  const changeOfDay = useCallback(
    (key: string, apply: (day: FieldDay) => FieldDay) => {
      const db = phone.current;
      const { runs, days } = shown.current;
      const before = days.find((day) => day.key === key);
      if (db === undefined || before === undefined) return;
      const after = apply(before);
      const next = runs.map((one) =>
        one.run.dayKey === key ? { ...one, run: followed(one.run, before.form, after.form) } : one,
      );
      const nextDays = days.map((day) => (day.key === key ? after : day));
      typedHere({ runs: next, days: nextDays }, after, () => changeDay(db, key, apply));
    },
    [typedHere],
  );

  return {
    status,
    phone: phone.current,
    lists,
    ...kept,
    round,
    isShellKept,
    begin: async (prepare = (run) => run) => {
      const db = phone.current;
      if (db === undefined || lists === undefined) return undefined;
      const known = (await keptLists(db)) ?? lists;
      const run = prepare(newFieldRun(crypto.randomUUID(), known, Date.now()), known);
      await keepRun(db, run);
      await read();
      return run;
    },
    beginDay: async (subjects) => {
      const db = phone.current;
      if (db === undefined || lists === undefined) return undefined;
      const known = (await keptLists(db)) ?? lists;
      const last = lastDay(await daysOf(db, known.accountId), known.days);
      const day = newFieldDay(crypto.randomUUID(), known, { nowMs: Date.now(), last, subjects });
      await keepDay(db, day);
      await read();
      sendSoon();
      return day;
    },
    change,
    changeDay: changeOfDay,
    addPhoto: async (photo) => {
      if (phone.current !== undefined) await keepPhoto(phone.current, photo);
      await read();
      sendSoon();
    },
    removePhoto: async (id) => {
      if (phone.current !== undefined) await dropPhoto(phone.current, id);
      await read();
    },
    wipe: async (key) => {
      if (accountId !== undefined) forgetUnwritten(localStorage, { accountId, key });
      if (phone.current !== undefined) await wipeRun(phone.current, key);
      await read();
    },
    send: () => void send(),
  };
}

/** Keystrokes that a page closed too soon had only noted go into the database. */
async function writeUnwritten(phone: Phone, accountId: string): Promise<void> {
  for (const [key, change] of unwrittenOf(localStorage, accountId)) {
    if ((await changeRun(phone, key, change)) === undefined) await changeDay(phone, key, change);
    forgetUnwritten(localStorage, { accountId, key });
  }
}

/** From the server where it answers; else what the phone kept of the last one signed in. */
async function listsFor(phone: Phone): Promise<FieldLists | 'stranger' | 'unknown'> {
  try {
    const answer = await fetch('/api/field/lists', { headers: { Accept: 'application/json' } });
    if (answer.ok) {
      const lists = (await answer.json()) as FieldLists;
      await keepLists(phone, lists);
      await takeListedDays(phone, lists);
      return lists;
    }
    if (answer.status === 401 || answer.status === 403) {
      await forgetCurrent(phone);
      return 'stranger';
    }
  } catch {
    // No signal, or a page of some portal in place of the answer: the kept lists serve.
  }
  return (await keptLists(phone)) ?? 'unknown';
}

/** The days that the server knows of join those of the phone; what is over and sent is let go. */
async function takeListedDays(phone: Phone, lists: FieldLists): Promise<void> {
  const [nowMs, runs] = [Date.now(), await runsOf(phone, lists.accountId)];
  const listed = withListedDays(await daysOf(phone, lists.accountId), lists, nowMs);
  for (const day of listed) {
    if ((await changeDay(phone, day.key, () => day)) === undefined) await keepDay(phone, day);
  }
  for (const day of await daysOf(phone, lists.accountId)) {
    if (mayForget(day, runs, localDay(nowMs))) await dropDay(phone, day.key);
  }
}

/** One window sends at a time, where the browser can see to that; elsewhere the keys of the sendings do. */
async function alone(work: () => Promise<Round>): Promise<Round | undefined> {
  if (!('locks' in navigator)) return work();
  return navigator.locks.request('evenloop-field-send', { ifAvailable: true }, (lock) =>
    lock === null ? undefined : work(),
  );
}
