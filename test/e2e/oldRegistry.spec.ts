import { type APIRequestContext, expect, test } from '@playwright/test';
import { OLD_PEOPLE } from '../helpers/oldRegistry';
import { asking, faultIn } from './overHttp';

const LISTS = [
  '/',
  '/rankings',
  '/compare',
  '/models',
  '/loops',
  '/runs',
  '/protocol',
  '/method',
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
  '/audit',
  '/api/health',
  '/api/field/lists',
];
/** Runs are numbered from one; the dump holds a few more than seventy. */
const RUNS = Array.from({ length: 80 }, (_, k) => [
  `/runs/${k + 1}`,
  `/runs/${k + 1}/case.json`,
  `/review/${k + 1}`,
]);
/** Addresses of one path that differ in their query: what is public in them is the same for everybody. */
const mostQueries = (who: string) => (who === 'nobody' ? 4 : 1);

/** Follows every link from the lists on, once; gives what answered with a fault and how much was opened. */
async function openEverything(
  asker: APIRequestContext,
  most: number,
): Promise<{ opened: number; faults: string[]; paths: Set<string> }> {
  const waiting = [...LISTS, ...RUNS.flat()];
  const seen = new Set(waiting);
  const queries = new Map<string, number>();
  const paths = new Set<string>();
  const faults: string[] = [];
  let opened = 0;
  for (let path = waiting.shift(); path !== undefined; path = waiting.shift()) {
    const answer = await asker.get(path, { maxRedirects: 0 });
    const body = await answer.text();
    opened += 1;
    if (answer.ok()) paths.add(path.split('?')[0] ?? path);
    const fault = faultIn(answer.status(), body);
    if (fault !== undefined) faults.push(`${path}: ${fault}`);
    for (const [, href = ''] of body.matchAll(/(?:href|src)="(\/[^"#]*)/g)) {
      const link = href.replaceAll('&amp;', '&');
      const [base = ''] = link.split('?');
      if (seen.has(link) || link.startsWith('/_next/') || link.startsWith('//')) continue;
      const count = queries.get(base) ?? 0;
      if (count >= most) continue;
      queries.set(base, count + 1);
      seen.add(link);
      waiting.push(link);
    }
  }
  return { opened, faults, paths };
}

for (const [who, email] of [['nobody', undefined], ...Object.entries(OLD_PEOPLE)] as const) {
  test(`every page of a registry of version 0.1.0 opens for ${who}`, async ({ playwright }) => {
    test.setTimeout(300_000);
    const asker = await asking(playwright, email);
    const { opened, faults, paths } = await openEverything(asker, mostQueries(who));
    expect(faults).toEqual([]);
    expect(opened).toBeGreaterThan(300);
    const found = (pattern: RegExp) => [...paths].filter((path) => pattern.test(path)).length;
    expect(found(/^\/setups\//)).toBeGreaterThan(5);
    expect(found(/^\/runs\/\d+$/)).toBeGreaterThan(40);
    // The odd drafts of their tester, and the imports in every state.
    if (who === 'tester') {
      expect(found(/^\/record\/[0-9a-f-]{36}$/)).toBeGreaterThanOrEqual(6);
      expect(found(/^\/import\/[0-9a-f-]{36}$/)).toBeGreaterThanOrEqual(5);
      expect(found(/^\/my\/cars\/[0-9a-f-]{36}$/)).toBeGreaterThanOrEqual(1);
    }
    if (who === 'reviewer' || who === 'steward') expect(found(/^\/review\/\d+$/)).toBeGreaterThan(5);
    await asker.dispose();
  });
}
