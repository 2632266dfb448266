/** Every public page in words, for its title, for search engines and for the picture of a shared link. */
export interface PageWords {
  path: string;
  title: string;
  description: string;
}

const PAGES = {
  home: {
    path: '/',
    title: 'What one change does to an electric car’s consumption',
    description:
      'A registry of repeatable electric-car consumption runs: what a change did to consumption, how sure that is, and when it cannot be told.',
  },
  rankings: {
    path: '/rankings',
    title: 'Rankings',
    description: 'Setups of electric cars by consumption at one steady speed, each with its 95 % interval.',
  },
  factors: {
    path: '/factors',
    title: 'What does a change do?',
    description:
      'Ride height, drive mode, tyres, roof boxes, speed: what each does to the consumption of electric cars, and how sure that is.',
  },
  compare: {
    path: '/compare',
    title: 'Compare setups',
    description:
      'Setups of one speed class, held against the first of them: how large the difference is, how sure, and what would settle it.',
  },
  estimate: {
    path: '/estimate',
    title: 'What would mine do?',
    description:
      'Range, charging time and cost of an electric car on a trip of your own, each with its 95 % interval: which parts were measured, and which are assumed.',
  },
  models: {
    path: '/models',
    title: 'Models',
    description: 'Electric car models, the setups driven of each, and what a single change did.',
  },
  studies: {
    path: '/studies',
    title: 'Studies',
    description:
      'Questions about one change to an electric car, each with a plan that was fixed before driving, and what came out.',
  },
  requests: {
    path: '/requests',
    title: 'What to drive next',
    description:
      'The days of driving that would teach most about electric-car consumption for an hour, and the comparisons that readers ask for.',
  },
  setups: {
    path: '/rankings',
    title: 'Setup',
    description: 'A setup of an electric car: its consumption with an interval, and every run behind it.',
  },
  loops: {
    path: '/loops',
    title: 'Loops',
    description: 'Fixed out-and-back roads on which cars are driven: their shape, height and wind.',
  },
  runs: {
    path: '/runs',
    title: 'Runs',
    description: 'Approved runs, each with its readings, what was adjusted for, and how sure the result is.',
  },
  testers: {
    path: '/runs',
    title: 'Tester',
    description: 'A tester and the approved runs that they drove.',
  },
  protocol: {
    path: '/protocol',
    title: 'Protocol',
    description: 'The written rules by which every run is judged before it counts.',
  },
  method: {
    path: '/method',
    title: 'Method',
    description:
      'How a run is brought to reference conditions with its uncertainty, and how setups are compared.',
  },
  data: {
    path: '/data',
    title: 'Data',
    description:
      'Snapshots of the registry to take away: consumption runs of electric cars with readings, inputs, results and fits, signed and complete enough to compute every number again.',
  },
  columns: {
    path: '/data/columns',
    title: 'What each column is',
    description:
      'Every column of the registry’s data in one sentence, with its unit and where it comes from.',
  },
  api: {
    path: '/data/api',
    title: 'For programs',
    description:
      'Every published number of the registry for programs: addresses, what they answer, and the description by OpenAPI 3.1.',
  },
  safety: {
    path: '/safety',
    title: 'Safety and privacy',
    description: 'What comes before any measurement, and what is and is not kept of those who measure.',
  },
  display: {
    path: '/display',
    title: 'Units and display',
    description: 'The units, the decimal mark and the appearance in which everything here is shown.',
  },
} as const satisfies Record<string, PageWords>;

export type PageName = keyof typeof PAGES;

export const pageWords: ReadonlyMap<string, PageWords> = new Map(Object.entries(PAGES));

export function wordsOfPage(name: PageName): PageWords {
  return PAGES[name];
}
