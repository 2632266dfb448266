import { type Actor, atLeast } from '@/lib/run/roles';
import { DEMO, onlyWorldOf, RECORD, type WorldKey } from '@/lib/run/world';
import { countAccounts } from '@/lib/store/accounts';
import { countOpenRuns, countWaiting, type RegistryCounts, registryCounts } from '@/lib/store/publicPages';
import { lacksSteward } from '../accounts/stewardCode';
import { shownLabel } from '../counted/countedLabel';
import type { Registry } from '../registry';
import { type PublicRun, readPublicRuns } from '../runs/publicRuns';
import { type LiveAnswer, readBestAnswers } from './liveAnswers';

export interface HomeView {
  /** Nobody has an account, not even in the demo world. */
  isUnclaimed: boolean;
  /** Nobody answers for the record yet: the code of the last start makes someone its steward. */
  lacksSteward: boolean;
  /** The counts and runs shown are those of the demo world, for the record has none yet. */
  world: WorldKey;
  counts: RegistryCounts;
  /** The best-supported, the surest first. */
  answers: LiveAnswer[];
  latest: PublicRun[];
  /** What waits for the one who looks, where signed in. */
  waiting: { drafts: number; changesAsked: number; reviews: number } | undefined;
  isReviewer: boolean;
  isSteward: boolean;
}

const LATEST = 8;
const ANSWERS = 3;

/** The state of the registry, and what waits for the one who looks. */
export async function readHome(registry: Registry, actor: Actor | undefined): Promise<HomeView> {
  const [accounts, isStewardWanted, record] = await Promise.all([
    countAccounts(registry.db),
    lacksSteward(registry),
    countsOf(registry, RECORD),
  ]);
  const demo = record.approved === 0 ? await countsOf(registry, DEMO) : undefined;
  const isDemo = demo !== undefined && demo.approved > 0;
  const world = isDemo ? DEMO : RECORD;
  const isReviewer = actor !== undefined && atLeast(actor.role, 'reviewer');
  const [answers, latest, open, reviews] = await Promise.all([
    readBestAnswers(registry, world, ANSWERS),
    readPublicRuns(registry, { world }, LATEST),
    actor === undefined ? undefined : countOpenRuns(registry.db, actor.accountId),
    actor !== undefined && isReviewer ? countWaiting(registry.db, actor.accountId, onlyWorldOf(actor)) : 0,
  ]);
  return {
    isUnclaimed: accounts === 0,
    lacksSteward: isStewardWanted,
    world,
    counts: isDemo ? demo : record,
    answers,
    latest,
    waiting: open === undefined ? undefined : { ...open, reviews },
    isReviewer,
    isSteward: actor !== undefined && atLeast(actor.role, 'steward'),
  };
}

/** The first answer of the home page, for the picture of a link to it. */
export async function readFirstAnswer(registry: Registry): Promise<LiveAnswer | undefined> {
  const isRecordEmpty = (await readPublicRuns(registry, { world: RECORD }, 1)).length === 0;
  const [first] = await readBestAnswers(registry, isRecordEmpty ? DEMO : RECORD, 1);
  return first;
}

async function countsOf(registry: Registry, world: WorldKey): Promise<RegistryCounts> {
  return registryCounts(registry.db, { world, methodVersion: await shownLabel(registry.db, world) });
}
