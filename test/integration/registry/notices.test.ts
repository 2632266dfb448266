import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { HoldingOutbox, Letter } from '@/lib/mail/letter';
import { outboxIn } from '@/lib/mail/outboxFolder';
import { postDue } from '@/lib/mail/postLetters';
import { isLetterWanted, mailNotices } from '@/lib/registry/accounts/mailNotices';
import {
  chooseNoticeMail,
  readNoticeMail,
  readUnsubscribe,
  unsubscribe,
} from '@/lib/registry/accounts/noticeMail';
import { readNotifications } from '@/lib/registry/accounts/readNotifications';
import { liftSuspension, suspendAccount } from '@/lib/registry/accounts/suspend';
import { addCar } from '@/lib/registry/cars/addCar';
import { eraseAccount } from '@/lib/registry/privacy/eraseAccount';
import { actOnManyRuns } from '@/lib/registry/review/actOnManyRuns';
import { guessStudy } from '@/lib/registry/studies/guesses';
import { beginStudy, completeStudy, joinStudy } from '@/lib/registry/studies/moveStudy';
import { planStudy, replanStudy } from '@/lib/registry/studies/planStudy';
import { Conflict, InvalidInput, NotAllowed } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
import { insertNotification, MAIL_NOTICES_JOB } from '@/lib/store/notices';
import { PLAN_DEFAULTS, setupFieldName } from '@/lib/study/planForm';
import { freshDatabase } from '@/test/helpers/database';
import { letterBox } from '@/test/helpers/letterBox';
import {
  approve,
  loopOf,
  person,
  registryOn,
  signedInAs,
  submitted,
  type Vehicle,
  vehicleOf,
} from '@/test/helpers/smallRegistry';

const { prisma } = await freshDatabase();
const { registry, clock, remove } = await registryOn(prisma);
const folder = mkdtempSync(join(tmpdir(), 'evenloop-letters-'));
afterAll(() => {
  remove();
  rmSync(folder, { recursive: true, force: true });
});

const SITE = 'https://registry.example';
const outbox = outboxIn(folder);
const mailer = { outbox, site: SITE };
const MINUTE_MS = 60_000;
const later = (minutes: number) => {
  clock.now = new Date(clock.now.getTime() + minutes * MINUTE_MS);
};

const newsOf = ({ accountId }: Actor) =>
  prisma.notification.findMany({
    where: { accountId },
    orderBy: { id: 'asc' },
    select: { kind: true, text: true, href: true },
  });
const kindsOf = async (of: Actor) => (await newsOf(of)).map(({ kind }) => kind);

describe('of a study', () => {
  let mira: Actor;
  let jonas: Actor;
  let lea: Actor;
  let rita: Actor;
  let stina: Actor;
  let vehicle: Vehicle;
  let study: { studyId: string; slug: string };

  beforeAll(async () => {
    mira = await person(registry, 'Mira Holm');
    jonas = await person(registry, 'Jonas Reet');
    lea = await person(registry, 'Lea Brandt', 'reader');
    rita = await person(registry, 'Rita Sand', 'reviewer');
    stina = await person(registry, 'Stina Ek', 'steward');
    vehicle = await vehicleOf(registry, mira);
  });

  it('whose it is hears who joins, and those who drive or guessed hear what becomes of it', async () => {
    const loopId = await loopOf(registry, mira);
    const form = {
      ...PLAN_DEFAULTS,
      runsADay: '2',
      days: '2',
      baselineId: vehicle.baselineId,
      [setupFieldName(vehicle.lowId)]: 'yes',
    };
    const question = 'Does the low ride height use less?';
    const of = { carId: vehicle.carId, loopId, cruiseClassKey: 'kmh-110', seed: 3 };
    study = await planStudy(registry, mira, { ...of, question, form });
    const { studyId } = study;
    await beginStudy(registry, mira, { studyId });
    const { carId } = await addCar(registry, jonas, { modelId: vehicle.modelId, name: 'Second Skerry' });
    for (let i = 0; i < 2; i++) await joinStudy(registry, jonas, { studyId });
    expect(await newsOf(mira)).toEqual([
      {
        kind: 'study.join',
        text: `A tester joined your study “${question}”: 2 drive in it now.`,
        href: `/studies/${study.slug}`,
      },
    ]);
    await guessStudy(registry, lea, { studyId, direction: 'less', size: '3' });
    const reason = 'A third day became free.';
    await replanStudy(registry, mira, {
      studyId,
      version: 1,
      question,
      form: { ...form, days: '3' },
      reason,
    });
    // What jonas drives for it is told to both: to him as its tester, to mira as it is her study.
    const runs = [];
    for (const [hour, setupId] of [
      ['08', vehicle.baselineId],
      ['10', vehicle.lowId],
    ] as const)
      runs.push(
        await submitted(registry, jonas, {
          carId,
          loopId,
          setupId,
          cruiseClassKey: 'kmh-110',
          startedAtLocal: `2026-05-10T${hour}:00`,
        }),
      );
    for (const run of runs) await approve(registry, rita, run);
    expect((await kindsOf(jonas)).filter((kind) => kind === 'review.approve')).toHaveLength(2);
    const seen = runs.map(({ runNumber, revisionNumber }) => `${runNumber}.approved.free.${revisionNumber}`);
    const steward = await signedInAs(registry, stina.accountId);
    const done = await actOnManyRuns(registry, steward, {
      act: 'retract',
      seen,
      reason: 'The odometer was swapped.',
    });
    expect(done.done).toHaveLength(2);
    await completeStudy(registry, mira, { studyId });
    expect(await kindsOf(mira)).toEqual(['study.join', 'study.approve', 'study.approve', 'study.retract']);
    expect((await newsOf(mira)).at(-1)?.text).toMatch(/^2 runs of your study .* were retracted\.$/);
    expect((await kindsOf(jonas)).filter((kind) => kind.startsWith('study'))).toEqual([
      'study.replan',
      'study.complete',
    ]);
    expect((await newsOf(lea)).map(({ text }) => text)).toEqual([
      expect.stringMatching(/number 2\. A third day became free\.$/),
      expect.stringMatching(/on which you guessed, was driven to its end/),
    ]);
  });
});

describe('by letter', () => {
  let ilse: Actor;
  const ADDRESS = 'ilse.vann@people.example';
  const tell = (text: string, of = ilse) =>
    insertNotification(prisma, {
      accountId: of.accountId,
      kind: 'review.approve',
      text,
      href: '/runs/7',
      createdAt: clock.now,
    });
  const letters = async () => (await outbox.waiting()).letters;
  const emptied = async () => {
    for (const { name } of await letters()) await outbox.remove(name);
  };
  const secretOf = (text = '') => /unsubscribe\?token=([\w-]+)$/m.exec(text)?.[1] ?? '';

  beforeAll(async () => {
    ilse = await person(registry, 'Ilse Vann');
  });

  it('are chosen by whoever has a proved address, and begin then', async () => {
    await expect(chooseNoticeMail(registry, undefined, { choice: 'each' })).rejects.toBeInstanceOf(
      NotAllowed,
    );
    await expect(chooseNoticeMail(registry, ilse, { choice: 'often' })).rejects.toBeInstanceOf(InvalidInput);
    await expect(chooseNoticeMail(registry, ilse, { choice: 'each' })).rejects.toBeInstanceOf(Conflict);
    await prisma.account.update({
      where: { id: ilse.accountId },
      data: { emailVerifiedAt: clock.now },
    });
    await tell('Told before.');
    expect(await readNoticeMail(registry, ilse)).toMatchObject({ choice: 'none', isProved: true });
    await chooseNoticeMail(registry, ilse, { choice: 'each' });
    later(1);
    expect(await prisma.job.count({ where: { kind: MAIL_NOTICES_JOB } })).toBe(0);
    await tell('Run 7 was approved.');
    await tell('Run 8 was approved.');
    expect(await prisma.job.count({ where: { kind: MAIL_NOTICES_JOB, state: 'queued' } })).toBe(1);
    later(2);
    expect(await mailNotices(registry, mailer)).toBe(1);
    expect(await mailNotices(registry, mailer)).toBe(0);
    const [letter, ...rest] = await letters();
    expect(rest).toEqual([]);
    expect(letter).toMatchObject({ to: ADDRESS, subject: '2 notices from registry.example' });
    expect(letter?.text).toContain('Run 7 was approved.');
    expect(letter?.text).not.toContain('Told before.');
    expect(letter?.unsubscribe).toBe(`${SITE}/api/unsubscribe?token=${secretOf(letter?.text)}`);
    // What is read by then is not sent.
    await tell('Run 9 was approved.');
    await readNotifications(registry, ilse);
    expect(await mailNotices(registry, mailer)).toBe(0);
    await emptied();
  });

  it('are written once, wherever the writing broke off', async () => {
    const dying = (at: 'hold' | 'handOver'): HoldingOutbox => ({
      ...outbox,
      async hold(...args) {
        await outbox.hold(...args);
        if (at === 'hold') throw new Error('killed');
      },
      async handOver() {
        throw new Error('killed');
      },
    });
    await tell('Run 10 was approved.');
    later(1);
    await expect(mailNotices(registry, { outbox: dying('hold'), site: SITE })).rejects.toThrow('killed');
    expect(await letters()).toEqual([]);
    // Its notice was not marked: the letter that was held was never meant, and its link never worked.
    later(1);
    await expect(mailNotices(registry, { outbox: dying('handOver'), site: SITE })).rejects.toThrow('killed');
    expect(await letters()).toEqual([]);
    later(1);
    expect(await mailNotices(registry, mailer)).toBe(0);
    expect(await mailNotices(registry, mailer)).toBe(0);
    expect(await outbox.held()).toEqual([]);
    expect((await letters()).map(({ text }) => text.match(/Run 10 was/g)?.length)).toEqual([1]);
    expect(await readUnsubscribe(registry, { token: secretOf((await letters())[0]?.text) })).toEqual({
      choice: 'each',
    });
    await emptied();
  });

  it('once a week are due on Monday, with what happened by then, and never empty', async () => {
    clock.now = new Date('2026-11-18T10:00:00Z');
    await chooseNoticeMail(registry, ilse, { choice: 'none' });
    await chooseNoticeMail(registry, ilse, { choice: 'weekly' });
    later(1);
    for (let i = 1; i <= 22; i++) await tell(`Run ${i} was approved.`);
    clock.now = new Date('2026-11-23T05:59:00Z');
    expect(await mailNotices(registry, mailer)).toBe(0);
    later(1);
    await tell('On the minute.');
    later(1);
    await tell('A minute late.');
    expect(await mailNotices(registry, mailer)).toBe(1);
    expect(await mailNotices(registry, mailer)).toBe(0);
    const [letter] = await letters();
    expect(letter?.subject).toBe('Your week at registry.example: 23 notices');
    expect(letter?.text).toContain('On the minute.');
    expect(letter?.text).not.toContain('A minute late.');
    expect(letter?.text).toContain('And 3 more:');
    clock.now = new Date('2026-11-30T06:00:00Z');
    expect(await mailNotices(registry, mailer)).toBe(1);
    clock.now = new Date('2026-12-07T06:00:00Z');
    expect(await mailNotices(registry, mailer)).toBe(0);
    await emptied();
  });

  it('end by the link of any of them, without signing in, and opening it ends nothing', async () => {
    await chooseNoticeMail(registry, ilse, { choice: 'each' });
    later(1);
    const texts: string[] = [];
    for (const text of ['First.', 'Second.']) {
      await tell(text);
      later(1);
      await mailNotices(registry, mailer);
      texts.push((await letters())[0]?.text ?? '');
      await emptied();
    }
    const [first, second] = texts.map(secretOf);
    expect(await readUnsubscribe(registry, { token: first })).toEqual({ choice: 'each' });
    expect(await readUnsubscribe(registry, { token: 'invented' })).toBeUndefined();
    expect(await unsubscribe(registry, { token: 'invented' })).toBe(false);
    expect((await readNoticeMail(registry, ilse)).choice).toBe('each');
    expect(await unsubscribe(registry, { token: first })).toBe(true);
    expect(await unsubscribe(registry, { token: first })).toBe(true);
    expect((await readNoticeMail(registry, ilse)).choice).toBe('none');
    await tell('Third.');
    later(1);
    expect(await mailNotices(registry, mailer)).toBe(0);
    // Chosen again, the link of an older letter still ends them.
    await chooseNoticeMail(registry, ilse, { choice: 'weekly' });
    expect(await unsubscribe(registry, { token: second })).toBe(true);
    const secrets = await prisma.token.findMany({ where: { accountId: ilse.accountId } });
    for (const { hash } of secrets) expect(texts.join()).not.toContain(hash);
    later(366 * 24 * 60);
    expect(await unsubscribe(registry, { token: second })).toBe(false);
  });

  it('go to nobody who is suspended or erased', async () => {
    const steward = await person(registry, 'Stine Roth', 'steward');
    await chooseNoticeMail(registry, ilse, { choice: 'each' });
    later(1);
    await tell('While suspended.');
    await suspendAccount(registry, letterBox().mail, await signedInAs(registry, steward.accountId), {
      accountId: ilse.accountId,
      reason: 'Sent the same photos twice.',
    });
    later(1);
    expect(await mailNotices(registry, mailer)).toBe(0);
    await liftSuspension(registry, letterBox().mail, await signedInAs(registry, steward.accountId), {
      accountId: ilse.accountId,
      reason: 'The photos were of two displays.',
    });
    // Suspending and lifting it had letters of their own.
    expect(await mailNotices(registry, mailer)).toBe(1);
    expect((await letters())[0]?.subject).toBe('One notice from registry.example');
    await emptied();
    // A weekly letter that lies in the outbox when its account is erased goes as little.
    await chooseNoticeMail(registry, ilse, { choice: 'weekly' });
    later(1);
    await tell('Of this week.');
    clock.now = new Date(clock.now.getTime() + 7 * 24 * 60 * MINUTE_MS);
    expect(await mailNotices(registry, mailer)).toBe(1);
    const sent: string[] = [];
    const send = async ({ subject }: Letter) => {
      sent.push(subject);
    };
    const round = (post: { send?: typeof send }) =>
      postDue(
        outbox,
        { send: post.send, isWanted: (letter) => isLetterWanted(registry, letter) },
        () => clock.now,
      );
    await round({});
    expect(await letters()).toHaveLength(1);
    await eraseAccount(registry, await signedInAs(registry, ilse.accountId), { isConfirmed: true });
    await round({ send });
    expect([sent, await letters()]).toEqual([[], []]);
    await tell('After all.');
    later(1);
    expect(await mailNotices(registry, mailer)).toBe(0);
    const kept = await prisma.account.findUniqueOrThrow({ where: { id: ilse.accountId } });
    expect(kept).toMatchObject({ noticeMail: 'none', noticeMailFrom: null });
    expect(await prisma.token.count({ where: { accountId: ilse.accountId } })).toBe(0);
  });
});
