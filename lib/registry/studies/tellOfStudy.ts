import type { Queryable } from '@/lib/store/database';
import { insertNotification, insertNotifications } from '@/lib/store/notices';
import { countStudyTesters, listenersOf, studiesOfRuns, studyToTell } from '@/lib/store/studyListeners';
import {
  joinedWords,
  type Listener,
  listenersBut,
  newsWords,
  type RunNews,
  runNewsWords,
  type StudyNews,
} from '@/lib/study/studyNews';

interface By {
  accountId: string;
  at: Date;
}

/** In the transaction that moves a study or its plan: those who drive in it, asked for it or guessed are told, once each. */
export async function tellOfStudy(tx: Queryable, studyId: string, news: StudyNews, by: By): Promise<void> {
  const { slug, question, requestId, request } = await studyToTell(tx, studyId);
  // Who asked knows it by their words; its tester may have put it in others.
  const asked = request?.question ?? question;
  const told = listenersBut(by.accountId, await listenersOf(tx, studyId, requestId));
  const hrefFor = (listener: Listener) =>
    listener === 'backer' && news.event === 'abandon' && news.isAskedAgain
      ? `/requests/${requestId}`
      : `/studies/${slug}`;
  await insertNotifications(
    tx,
    [...told].map(([accountId, listener]) => ({
      accountId,
      kind: `${listener === 'backer' ? 'request' : 'study'}.${news.event}`,
      text: newsWords(listener, listener === 'backer' ? asked : question, news),
      href: hrefFor(listener),
      createdAt: by.at,
    })),
  );
}

/** In the transaction in which somebody joins: whose study it is hears of it. */
export async function tellOfJoining(
  tx: Queryable,
  { id, ownerId }: { id: string; ownerId: string },
  by: By,
): Promise<void> {
  const { slug, question, owner } = await studyToTell(tx, id);
  if (ownerId === by.accountId || owner.erasedAt !== null) return;
  await insertNotification(tx, {
    accountId: ownerId,
    kind: 'study.join',
    text: joinedWords(question, await countStudyTesters(tx, id)),
    href: `/studies/${slug}`,
    createdAt: by.at,
  });
}

/**
 * In the transaction in which runs are decided on or retracted: whose studies they belong to hears of it, once a study
 * however many of its runs it is. Of their own runs they are told as their tester.
 */
export async function tellStudyOwners(
  tx: Queryable,
  runIds: readonly string[],
  news: RunNews,
  by: By,
): Promise<void> {
  const ofStudy = new Map<string, { slug: string; question: string; ownerId: string; numbers: number[] }>();
  for (const { number, testerId, study } of await studiesOfRuns(tx, runIds)) {
    if (study.ownerId === testerId || study.ownerId === by.accountId) continue;
    const known = ofStudy.get(study.id);
    if (known === undefined) ofStudy.set(study.id, { ...study, numbers: [number] });
    else known.numbers.push(number);
  }
  await insertNotifications(
    tx,
    [...ofStudy.values()].map(({ slug, question, ownerId, numbers }) => ({
      accountId: ownerId,
      kind: `study.${news}`,
      text: runNewsWords(question, news, numbers),
      href: `/studies/${slug}`,
      createdAt: by.at,
    })),
  );
}
