import type { StudyEvent } from './studyState';

/** Who is told of a study, and why: it drives in it, it asked for it, or it guessed what comes out. */
export type Listener = 'tester' | 'backer' | 'guesser';

export interface Listeners {
  testers: readonly string[];
  backers: readonly string[];
  guessers: readonly string[];
}

/** Each who is told, once, by what ties them closest; whoever did it is not told of their own act. */
export function listenersBut(
  actorId: string,
  { testers, backers, guessers }: Listeners,
): Map<string, Listener> {
  const found = new Map<string, Listener>();
  for (const id of guessers) found.set(id, 'guesser');
  for (const id of backers) found.set(id, 'backer');
  for (const id of testers) found.set(id, 'tester');
  found.delete(actorId);
  return found;
}

/** What happened to a study that its listeners are told. */
export type StudyNews =
  | { event: 'begin'; isOneMore: boolean }
  | { event: 'complete' }
  | { event: 'abandon'; reason: string; isAskedAgain: boolean }
  | { event: 'replan'; version: number; reason: string };

/** A draft that is given up was never announced, so nothing is said of its end. */
export function isNews(event: StudyEvent, wasDraft: boolean): boolean {
  return !(event === 'abandon' && wasDraft);
}

const TIES: Readonly<Record<Listener, string>> = {
  tester: 'in which you drive',
  backer: 'which you asked for',
  guesser: 'on which you guessed',
};

export function newsWords(listener: Listener, question: string, news: StudyNews): string {
  const study = `“${question}”, ${TIES[listener]},`;
  switch (news.event) {
    case 'begin':
      if (listener === 'tester') return `${study} has begun: its plan is fixed.`;
      return `${study} is being driven${news.isOneMore ? ' in one more study' : ''}. You can say what you expect.`;
    case 'complete':
      return `${study} was driven to its end. See what came out${listener === 'guesser' ? ' and how near your guess was' : ''}.`;
    case 'abandon':
      return `${listener === 'backer' && news.isAskedAgain ? `${study} is open again: its study` : study} was given up. ${news.reason}`;
    case 'replan':
      return `${study} has a new version of its plan, number ${news.version}. ${news.reason}`;
  }
}

/** What happens to runs of a study that its owner is told. */
export type RunNews = 'approve' | 'askChanges' | 'reject' | 'retract';

const OUTCOMES: Readonly<Record<RunNews, readonly [one: string, several: string]>> = {
  approve: ['was approved', 'were approved'],
  askChanges: ['was sent back for changes', 'were sent back for changes'],
  reject: ['was rejected', 'were rejected'],
  retract: ['was retracted', 'were retracted'],
};

/** Of runs that others drove for one's study, one or several at once. */
export function runNewsWords(question: string, news: RunNews, numbers: readonly number[]): string {
  const [one, several] = OUTCOMES[news];
  const which = numbers.length === 1 ? `Run ${numbers[0]}` : `${numbers.length} runs`;
  return `${which} of your study “${question}” ${numbers.length === 1 ? one : several}.`;
}

export function joinedWords(question: string, testers: number): string {
  return `A tester joined your study “${question}”: ${testers} drive in it now.`;
}
