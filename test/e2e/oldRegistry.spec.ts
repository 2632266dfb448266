import { type APIResponse, expect, test } from '@playwright/test';
import { OLD_PEOPLE } from '../helpers/oldRegistry';
import { askAll, asking, faultIn } from './overHttp';

const LISTS = [
  '/',
  '/rankings',
  '/compare',
  '/estimate',
  '/models',
  '/loops',
  '/runs',
  '/protocol',
  '/method',
  '/factors',
  '/factors/rideHeight',
  '/factors/cruiseSpeed',
  '/safety',
  '/sign-in',
  '/sign-up',
  '/account',
  '/my',
  '/my/cars',
  '/my/models/new',
  '/my/loops/new',
  '/my/loops/from-trace',
  '/my/setups/new',
  '/record',
  '/field',
  '/import',
  '/import/template.csv',
  '/notifications',
  '/queue',
  '/people',
  '/method-versions',
  '/shared-levels',
  '/audit',
  '/api/health',
  '/api/field/lists',
];
/** Runs are numbered from one; the dump holds a few more than seventy. */
const NUMBERS = Array.from({ length: 80 }, (_, k) => k + 1);
const RUNS = NUMBERS.flatMap((number) => [`/runs/${number}`, `/runs/${number}/case.json`]);
const REVIEWS = NUMBERS.map((number) => `/review/${number}`);

/** Addresses of one kind of page that differ in their query: what is public in them is the same for everybody. */
const mostQueries = (who: string) => (who === 'nobody' ? 8 : 1);
/**
 * Whoever is signed in opens so many things of a kind that nobody in particular could open before them, and so many
 * that are not open to all: each of those is opened by whoever it is there for.
 */
const MOST_OF_A_KIND = 2;
const MOST_NOT_FOR_ALL = 6;

/**
 * A figure's files say what its page shows, to whoever asks: so many of a kind and format are opened, by nobody in
 * particular. A picture takes as long as a page.
 */
const mostFiles = (who: string, path: string) => {
  if (who !== 'nobody') return 0;
  return path.endsWith('.csv') ? 6 : 1;
};
const isFigureFile = (path: string) => path.startsWith('/figures/');
const fileKindOf = (path: string) => path.replace(/^(\/figures\/[^/]+)\/.*(\.[a-z]+)$/, '$1/…$2');

/** What opened for nobody in particular, who comes first. */
const isOpenToAll = new Set<string>();

const kindOf = (path: string) => (LISTS.includes(path) ? path : path.replace(/^\/([^/]+)\/[^/]+/, '/$1/…'));

/** The tester, whose the odd runs are, opens every run and all that is theirs; the reviewer every review. */
const isThereFor = (who: string, path: string) =>
  LISTS.includes(path) ||
  who === 'nobody' ||
  (who === 'tester' && (RUNS.includes(path) || !isOpenToAll.has(path))) ||
  (who === 'reviewer' && REVIEWS.includes(path));

const mayReview = (who: string) => who === 'reviewer' || who === 'steward';

/** Follows every link from the lists on, once; gives what answered with a fault and how much was opened. */
async function openEverything(
  ask: (address: string) => Promise<APIResponse>,
  who: string,
): Promise<{ opened: number; faults: string[]; paths: Set<string> }> {
  const waiting = [...LISTS, ...RUNS, ...(mayReview(who) ? REVIEWS : REVIEWS.slice(0, 3))];
  const seen = new Set(waiting);
  const queries = new Map<string, number>();
  const kinds = new Map<string, number>();
  const paths = new Set<string>();
  const faults: string[] = [];
  let opened = 0;
  const isOneTooMany = (path: string) => {
    if (isThereFor(who, path)) return false;
    const isOpen = isOpenToAll.has(path);
    const kind = `${kindOf(path)} ${isOpen}`;
    const count = (kinds.get(kind) ?? 0) + 1;
    kinds.set(kind, count);
    return count > (isOpen ? MOST_OF_A_KIND : MOST_NOT_FOR_ALL);
  };
  await askAll(waiting, async (address) => {
    const [path = ''] = address.split('?');
    if (isOneTooMany(path)) return;
    const answer = await ask(address);
    const body = await answer.text();
    opened += 1;
    if (answer.ok()) paths.add(path);
    const fault = faultIn(answer.status(), body);
    if (fault !== undefined) faults.push(`${address}: ${fault}`);
    for (const [, href = ''] of body.matchAll(/(?:href|src)="(\/[^"#]*)/g)) {
      const link = href.replaceAll('&amp;', '&');
      const [base = ''] = link.split('?');
      if (seen.has(link) || link.startsWith('/_next/') || link.startsWith('//')) continue;
      if (isFigureFile(base) || link !== base) {
        const kind = isFigureFile(base) ? fileKindOf(base) : kindOf(base);
        const count = queries.get(kind) ?? 0;
        if (count >= (isFigureFile(base) ? mostFiles(who, base) : mostQueries(who))) continue;
        queries.set(kind, count + 1);
      }
      seen.add(link);
      waiting.push(link);
    }
  });
  return { opened, faults, paths };
}

for (const [who, email] of [['nobody', undefined], ...Object.entries(OLD_PEOPLE)] as const) {
  test(`every page of a registry of version 0.1.0 opens for ${who}`, async ({ playwright }) => {
    test.setTimeout(300_000);
    let asker = await asking(playwright, email);
    const ask = async (address: string) => {
      const answer = await asker.get(address, { maxRedirects: 0 });
      if (email === undefined || !/\/sign-in/.test(answer.headers().location ?? '')) return answer;
      // What is tried beside this may sign its people out everywhere.
      asker = await asking(playwright, email);
      return asker.get(address, { maxRedirects: 0 });
    };
    const { opened, faults, paths } = await openEverything(ask, who);
    expect(faults).toEqual([]);
    const found = (pattern: RegExp) => [...paths].filter((path) => pattern.test(path)).length;
    expect(opened).toBeGreaterThan(LISTS.length);
    expect(found(/^\/setups\//)).toBeGreaterThanOrEqual(MOST_OF_A_KIND);
    if (who === 'nobody') {
      expect(opened).toBeGreaterThan(220);
      expect(found(/^\/setups\//)).toBeGreaterThan(5);
      expect(found(/^\/runs\/\d+$/)).toBeGreaterThan(40);
      expect(found(/^\/figures\/.*\.csv$/)).toBeGreaterThan(10);
      expect(found(/^\/figures\/.*\.png$/)).toBeGreaterThan(2);
      for (const path of paths) isOpenToAll.add(path);
    }
    // The odd drafts of their tester, and the imports in every state.
    if (who === 'tester') {
      expect(found(/^\/runs\/\d+$/)).toBeGreaterThan(40);
      expect(found(/^\/record\/[0-9a-f-]{36}$/)).toBeGreaterThanOrEqual(6);
      expect(found(/^\/import\/[0-9a-f-]{36}$/)).toBeGreaterThanOrEqual(5);
      expect(found(/^\/my\/cars\/[0-9a-f-]{36}$/)).toBeGreaterThanOrEqual(1);
    }
    if (mayReview(who)) expect(found(/^\/review\/\d+$/)).toBeGreaterThan(5);
    await asker.dispose();
  });
}
