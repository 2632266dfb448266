/**
 * How often a study whose two setups do not differ is told that they do, at any of 20 looks, one after each session:
 * shares of 20,000 simulated studies (test/slow/stats/monitoring.test.ts draws them again and holds these figures).
 */
export interface EverWrong {
  words: string;
  /** Runs of each setup in a session. */
  each: 1 | 2;
  /** Spread of runs in units of what the class says. */
  runSd: number;
  /** Spread by which the difference itself moves from session to session, in units of a run's. */
  interactionSd: number;
  /** The bound as pages show it, or on runs alone, whatever the sessions say. */
  shown: 'as shown' | 'on runs alone';
  /** Whether the class's spread is lent. */
  lent: boolean;
  share: number;
}

export const EVER_WRONG_STUDIES = 20_000;
export const EVER_WRONG_LOOKS = 20;

export const EVER_WRONG: readonly EverWrong[] = [
  {
    words: 'Runs scatter as the class says (A B B A)',
    each: 2,
    runSd: 1,
    interactionSd: 0,
    shown: 'as shown',
    lent: true,
    share: 0.0098,
  },
  {
    words: 'Nothing known of how runs scatter (A B B A)',
    each: 2,
    runSd: 1,
    interactionSd: 0,
    shown: 'as shown',
    lent: false,
    share: 0.0166,
  },
  {
    words: 'The car scatters twice as much as its class (A B B A)',
    each: 2,
    runSd: 2,
    interactionSd: 0,
    shown: 'as shown',
    lent: true,
    share: 0.0413,
  },
  {
    words: 'The car scatters twice as much as its class (A B)',
    each: 1,
    runSd: 2,
    interactionSd: 0,
    shown: 'as shown',
    lent: true,
    share: 0.0596,
  },
  {
    words:
      'The difference itself moves from day to day by as much as a run, and the page turns to days (A B B A)',
    each: 2,
    runSd: 1,
    interactionSd: 1,
    shown: 'as shown',
    lent: true,
    share: 0.0574,
  },
  {
    words: 'The same, were runs counted all the while (A B B A)',
    each: 2,
    runSd: 1,
    interactionSd: 1,
    shown: 'on runs alone',
    lent: true,
    share: 0.0649,
  },
];
