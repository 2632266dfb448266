import { type DBSchema, type IDBPDatabase, openDB } from 'idb';
import type { FieldLists } from '@/lib/registry/runs/fieldCard';
import { DAY_NAMES } from '@/lib/run/sessionSheet';
import { type FieldDay, followed } from './fieldDay';
import type { FieldPhoto, FieldRun } from './fieldRun';
import { isSameForm } from './keptForm';

interface PhoneSchema extends DBSchema {
  /** Who used the card last: whose runs are shown without a signal. */
  account: { key: 'current'; value: { accountId: string } };
  lists: { key: string; value: FieldLists };
  runs: { key: string; value: FieldRun; indexes: { byAccount: string } };
  days: { key: string; value: FieldDay; indexes: { byAccount: string } };
  photos: { key: string; value: FieldPhoto; indexes: { byAccount: string; byRun: string } };
}

/** What the browser keeps for the field card, by account. */
export type Phone = IDBPDatabase<PhoneSchema>;

/** @param waits called where a window of an earlier version holds the database open */
export function openPhone(name = 'evenloop-field', waits?: () => void): Promise<Phone> {
  return openDB<PhoneSchema>(name, 2, {
    upgrade(db, from) {
      if (from < 1) {
        db.createObjectStore('account');
        db.createObjectStore('lists', { keyPath: 'accountId' });
        db.createObjectStore('runs', { keyPath: 'key' }).createIndex('byAccount', 'accountId');
        const photos = db.createObjectStore('photos', { keyPath: 'id' });
        photos.createIndex('byAccount', 'accountId');
        photos.createIndex('byRun', 'runKey');
      }
      db.createObjectStore('days', { keyPath: 'key' }).createIndex('byAccount', 'accountId');
    },
    ...(waits && { blocked: waits }),
  });
}

/** The lists of the one who is signed in become the phone's current ones. */
export async function keepLists(phone: Phone, lists: FieldLists): Promise<void> {
  const tx = phone.transaction(['account', 'lists'], 'readwrite');
  await tx.objectStore('lists').put(lists);
  await tx.objectStore('account').put({ accountId: lists.accountId }, 'current');
  await tx.done;
}

/** The lists kept for the current account, for a phone without a signal. */
export async function keptLists(phone: Phone): Promise<FieldLists | undefined> {
  const current = await phone.get('account', 'current');
  return current === undefined ? undefined : phone.get('lists', current.accountId);
}

/** Nobody is signed in any more: what is kept stays, and is shown to its own account again. */
export function forgetCurrent(phone: Phone): Promise<void> {
  return phone.delete('account', 'current');
}

/** The unit of a car's display as chosen on the phone: the next run with it begins in that unit. */
export async function keepUnit(
  phone: Phone,
  accountId: string,
  carId: string,
  quantity: string,
  unit: string,
): Promise<void> {
  const tx = phone.transaction('lists', 'readwrite');
  const lists = await tx.store.get(accountId);
  if (lists !== undefined) {
    const cars = lists.cars.map((car) =>
      car.id === carId ? { ...car, units: { ...car.units, [quantity]: unit } } : car,
    );
    await tx.store.put({ ...lists, cars });
  }
  await tx.done;
}

export async function runsOf(phone: Phone, accountId: string): Promise<FieldRun[]> {
  const runs = await phone.getAllFromIndex('runs', 'byAccount', accountId);
  return runs.toSorted((a, b) => b.createdAtMs - a.createdAtMs);
}

export async function keepRun(phone: Phone, run: FieldRun): Promise<void> {
  await phone.put('runs', run);
}

/**
 * Reads, changes and writes one run in one transaction, flushed to the disk before it counts: two windows that type
 * into different fields, or typing while an answer arrives, lose nothing of each other.
 */
export async function changeRun(
  phone: Phone,
  key: string,
  change: (run: FieldRun) => FieldRun,
): Promise<FieldRun | undefined> {
  const tx = phone.transaction('runs', 'readwrite', { durability: 'strict' });
  const run = await tx.store.get(key);
  const changed = run === undefined ? undefined : change(run);
  if (changed !== undefined) await tx.store.put(changed);
  await tx.done;
  return changed;
}

export function daysOf(phone: Phone, accountId: string): Promise<FieldDay[]> {
  return phone.getAllFromIndex('days', 'byAccount', accountId);
}

export async function keepDay(phone: Phone, day: FieldDay): Promise<void> {
  await phone.put('days', day);
}

/**
 * Reads, changes and writes one day as `changeRun` does a run, and in the same transaction the runs of the day, which
 * follow what it says.
 */
export async function changeDay(
  phone: Phone,
  key: string,
  change: (day: FieldDay) => FieldDay,
): Promise<FieldDay | undefined> {
  const tx = phone.transaction(['days', 'runs'], 'readwrite', { durability: 'strict' });
  const [days, runs] = [tx.objectStore('days'), tx.objectStore('runs')];
  const day = await days.get(key);
  const changed = day === undefined ? undefined : change(day);
  if (day !== undefined && changed !== undefined) {
    await days.put(changed);
    if (!isSameForm(day.form, changed.form, DAY_NAMES)) {
      for (const run of await runs.index('byAccount').getAll(day.accountId)) {
        if (run.dayKey === key) await runs.put(followed(run, day.form, changed.form));
      }
    }
  }
  await tx.done;
  return changed;
}

/** Takes a day off the phone; its runs stay. */
export function dropDay(phone: Phone, key: string): Promise<void> {
  return phone.delete('days', key);
}

export function photosOf(phone: Phone, runKey: string): Promise<FieldPhoto[]> {
  return phone.getAllFromIndex('photos', 'byRun', runKey);
}

/** Keeps a photo; one that is there already stays as it is, sent or not. */
export async function keepPhoto(phone: Phone, photo: FieldPhoto): Promise<void> {
  const tx = phone.transaction('photos', 'readwrite', { durability: 'strict' });
  if ((await tx.store.getKey(photo.id)) === undefined) await tx.store.put(photo);
  await tx.done;
}

export async function changePhoto(phone: Phone, id: string, change: Partial<FieldPhoto>): Promise<void> {
  const tx = phone.transaction('photos', 'readwrite');
  const photo = await tx.store.get(id);
  if (photo !== undefined) await tx.store.put({ ...photo, ...change });
  await tx.done;
}

export function dropPhoto(phone: Phone, id: string): Promise<void> {
  return phone.delete('photos', id);
}

/** Takes a run and its photos off the phone. */
export async function wipeRun(phone: Phone, key: string): Promise<void> {
  const tx = phone.transaction(['runs', 'photos'], 'readwrite');
  await tx.objectStore('runs').delete(key);
  for (const id of await tx.objectStore('photos').index('byRun').getAllKeys(key)) {
    await tx.objectStore('photos').delete(id);
  }
  await tx.done;
}

/** Takes everything of one account off the phone; what other accounts keep here is not touched. */
export async function wipeAccount(phone: Phone, accountId: string): Promise<void> {
  const tx = phone.transaction(['account', 'lists', 'runs', 'days', 'photos'], 'readwrite');
  for (const name of ['runs', 'days', 'photos'] as const) {
    const store = tx.objectStore(name);
    for (const key of await store.index('byAccount').getAllKeys(accountId)) await store.delete(key);
  }
  await tx.objectStore('lists').delete(accountId);
  await tx.objectStore('account').delete('current');
  await tx.done;
}
