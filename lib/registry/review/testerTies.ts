import { modelWords } from '@/lib/run/modelWords';
import type { RunStatus } from '@/lib/run/runStatus';
import { countRunsOf } from '@/lib/store/myRuns';
import {
  carsOfTester,
  loopsOfTester,
  picturesOfTester,
  reviewersOfTester,
  testerAccount,
} from '@/lib/store/reviewedTester';
import type { Registry } from '../registry';

/** Something or somebody that the tester's runs are tied to. */
export interface Tie {
  kind: 'car' | 'loop' | 'reviewer' | 'pictures';
  name: string;
  href: string | undefined;
  /** What the line's width says: runs, decisions or pictures. */
  weight: number;
  /** The tie in words, with its counts. */
  words: string;
  /** Worth a second look: common pictures, decisions on each other, most decisions by one person. */
  isNotable: boolean;
}

export interface TesterTies {
  name: string;
  accountDays: number;
  runs: ReadonlyMap<RunStatus, number>;
  ties: Tie[];
}

const DAY_MS = 86_400_000;

/** Who sent the run, and what their runs have in common with others'; for those who may decide on it. */
export async function testerTies(registry: Registry, testerId: string): Promise<TesterTies | null> {
  const { db } = registry;
  const [account, runs, cars, loops, reviewers, pictures] = await Promise.all([
    testerAccount(db, testerId),
    countRunsOf(db, testerId),
    carsOfTester(db, testerId),
    loopsOfTester(db, testerId),
    reviewersOfTester(db, testerId),
    picturesOfTester(db, testerId),
  ]);
  if (account === null) return null;
  const decided = reviewers.reduce((sum, one) => sum + one.decided, 0);
  return {
    name: account.displayName,
    accountDays: Math.floor((registry.now().getTime() - account.createdAt.getTime()) / DAY_MS),
    runs,
    ties: [
      ...pictures.map(
        ({ name, slug, pictures: count, runs: numbers }): Tie => ({
          kind: 'pictures',
          name,
          href: `/testers/${slug}`,
          weight: count,
          words: `${count} ${count === 1 ? 'picture' : 'pictures'} on ${numbers.map((one) => `run ${one}`).join(', ')}`,
          isNotable: true,
        }),
      ),
      ...reviewers.map(
        ({ name, slug, approved, decided: own, back }): Tie => ({
          kind: 'reviewer',
          name,
          href: `/testers/${slug}`,
          weight: own,
          words: `approved ${approved} of ${own} that they decided on${back > 0 ? `; the tester decided on ${back} of theirs` : ''}`,
          isNotable: back > 0 || (decided >= 4 && own > decided / 2),
        }),
      ),
      ...cars.map(
        ({ name, model, _count }): Tie => ({
          kind: 'car',
          name: `${name}, ${modelWords(model)}`,
          href: undefined,
          weight: _count.runs,
          words: runsWords(_count.runs),
          isNotable: false,
        }),
      ),
      ...loops.map(
        ({ name, slug, runs: count, otherTesters }): Tie => ({
          kind: 'loop',
          name,
          href: `/loops/${slug}`,
          weight: count,
          words: `${runsWords(count)}; ${othersWords(otherTesters)}`,
          isNotable: false,
        }),
      ),
    ],
  };
}

const runsWords = (count: number) => `${count} ${count === 1 ? 'run' : 'runs'}`;

function othersWords(count: number): string {
  if (count === 0) return 'nobody else drove there';
  return `${count} ${count === 1 ? 'other tester' : 'other testers'} drove there`;
}
