import { type APIRequestContext, expect, test } from '@playwright/test';
import { OLD_PEOPLE } from '../helpers/oldRegistry';
import { askAll, asking, faultIn, faultsAt } from './overHttp';

const NOT_NUMBERS = ['99999999999999999999', '-1', '1e309', '2147483648', 'NaN'];
const NAMES = ['__proto__', 'constructor', 'toString'];
const NUL = 'a\0b';
const VALUES = [...NAMES, NUL, '\ufffd\u202e', ...NOT_NUMBERS, 'x'.repeat(5000)];
/** As JSON writes it: a text with half a pair of UTF-16 units. */
const LONE = '"\\ud800"';

let tester: APIRequestContext;
let steward: APIRequestContext;

test.beforeAll(async ({ playwright }) => {
  tester = await asking(playwright, OLD_PEOPLE.tester);
  steward = await asking(playwright, OLD_PEOPLE.steward);
});
test.afterAll(() => Promise.all([tester.dispose(), steward.dispose()]));

/** How often the audit log tells of a draft that was written: what was stored leaves an entry. */
async function logged(): Promise<string> {
  const counts: string[] = [];
  for (const act of ['run.startDraft', 'run.saveDraft', 'run.addEvidence', 'run.addTrace', 'run.submit']) {
    const page = await (await steward.get(`/audit?action=${act}`)).text();
    counts.push(/(\d[\d,]*)(?:<!-- -->)? entr(?:y|ies)/.exec(page)?.[1] ?? 'no log');
  }
  return counts.join(' ');
}

async function firstDraft(): Promise<string> {
  const page = await (await tester.get('/my')).text();
  const id = /\/record\/([0-9a-f-]{36})/.exec(page)?.[1];
  if (id === undefined) throw new Error('the tester has no draft');
  return id;
}

const QUERIES: readonly [path: string, names: readonly string[]][] = [
  ['/', ['unit']],
  [
    '/rankings',
    [
      'class',
      'world',
      'body',
      'tyre',
      'model',
      'level',
      'runs',
      'cars',
      'from',
      'show',
      'by',
      'temp',
      'protocol',
      'counts',
      'unit',
    ],
  ],
  ['/compare', ['class', 'world', 'setup', 'want', 'power', 'unit']],
  [
    '/estimate',
    [
      'setup',
      'against',
      'class',
      'world',
      'find',
      'unit',
      'speed',
      'speedUnit',
      'air',
      'trip',
      'start',
      'capacity',
      'capacityOff',
      'climate',
      'windFrom',
    ],
  ],
  ['/factors', ['class', 'world', 'unit']],
  ['/factors/driveMode', ['class', 'world', 'unit']],
  ['/factors/cruiseSpeed', ['world', 'unit']],
  ['/runs', ['page', 'class', 'model', 'loop', 'tester', 'state', 'unit']],
  ['/runs/1', ['unit', 'simulation', 'check', 'units']],
  ['/sign-in', ['callbackUrl', 'error']],
  ['/queue', ['page', 'class', 'model', 'loop', 'claim', 'decided']],
  ['/audit', ['from', 'action', 'person', 'run']],
  ['/shared-levels', ['world', 'factor', 'open', 'from']],
  ['/my/cars', ['run', 'model', 'q']],
  ['/my/models/new', ['run']],
  ['/my/loops/new', ['run']],
  ['/my/setups/new', ['model', 'run', 'q']],
  ['/my/loops/from-trace', ['trace', 'notice']],
];

/** What a page makes of two values of a name is tried with one of these. */
const TWICE = [
  ['__proto__', NUL],
  ['99999999999999999999', '-1'],
] as const;

/**
 * Every name meets every value: in one address all names have a value each, the next one in the next address. And every
 * name stands alone, twice, so that no other's refusal hides what it does.
 */
function oddQueries(names: readonly string[]): URLSearchParams[] {
  const short = VALUES.filter((one) => one.length < 100);
  const together = short.map((value, first) => {
    const all = names.map((name, k) => [name, short[(first + k) % short.length] ?? value]);
    return new URLSearchParams([...all, ...NAMES.map((name) => [name, value])]);
  });
  const alone = names.map((name, k) => {
    const [first, second] = TWICE[k % TWICE.length] ?? TWICE[0];
    return new URLSearchParams([
      [name, first],
      [name, second],
    ]);
  });
  return [...together, ...alone];
}

test('odd queries fall back or are refused, on every page that has one', async () => {
  test.setTimeout(300_000);
  const addresses = QUERIES.flatMap(([path, names]) => oddQueries(names).map((query) => `${path}?${query}`));
  expect(await faultsAt(steward, addresses)).toEqual([]);
});

const SEGMENTS = [
  '__proto__',
  'constructor',
  '%00',
  '%ED%A0%80',
  '99999999999999999999',
  '-1',
  '%25',
  'a%0Ab',
];
const PLACES = [
  (s: string) => `/runs/${s}`,
  (s: string) => `/runs/${s}/case.json`,
  (s: string) => `/setups/${s}`,
  (s: string) => `/models/${s}`,
  (s: string) => `/models/${s}/charging`,
  (s: string) => `/loops/${s}`,
  (s: string) => `/testers/${s}`,
  (s: string) => `/protocol/${s}`,
  (s: string) => `/review/${s}`,
  (s: string) => `/record/${s}`,
  (s: string) => `/record/${s}/trace`,
  (s: string) => `/record/${s}/weather`,
  (s: string) => `/record/${s}/loop?q=${s}&from=${s}`,
  (s: string) => `/my/cars/${s}`,
  (s: string) => `/my/cars/${s}/change`,
  (s: string) => `/import/${s}`,
  (s: string) => `/import/${s}/faults.csv`,
  (s: string) => `/import/${s}/progress`,
  (s: string) => `/files/${s}`,
  (s: string) => `/api/field/runs/${s}`,
  (s: string) => `/api/runs/${s}/trace`,
  (s: string) => `/api/v1/own/runs/${s}/draft`,
];

test('odd addresses are no pages', async () => {
  test.setTimeout(120_000);
  const addresses = PLACES.flatMap((place) => SEGMENTS.map(place));
  expect(await faultsAt(tester, addresses)).toEqual([]);
});

test('a draft with odd names, values or numbers is refused with a sentence, and nothing is stored', async () => {
  const runId = await firstDraft();
  const before = await logged();
  const { accountId } = await (await tester.get('/api/field/lists')).json();
  const text = (value: string) => JSON.stringify(value);
  const forms = [
    ...NAMES.map((name) => `{${text(name)}: "x"}`),
    ...['carId', 'setupId', 'loopId'].flatMap((id) => NAMES.map((name) => `{${text(id)}: ${text(name)}}`)),
    `{"notes": ${text(NUL)}}`,
    `{"notes": ${LONE}}`,
    `{"a\\u0000b": "x"}`,
    `{${LONE}: "x"}`,
    '{"notes": {"text": "x"}}',
    '{"notes": 7}',
    '[]',
    'null',
    `{"notes": ${text('x'.repeat(5000))}}`,
    `${'{"notes":'.repeat(2000)}1${'}'.repeat(2000)}`,
  ];
  const versions = ['2147483648', '1e309', '-1', '0', '1.5', '"1"', 'null', '{}'];
  const bodies = [
    ...forms.map((form) => `{"draftVersion": 1, "form": ${form}}`),
    ...versions.map((version) => `{"draftVersion": ${version}, "form": {}}`),
    '',
    '[',
    'null',
    '7',
  ];
  const opened = [
    ...forms.map((form) => `{"accountId": "${accountId}", "creationKey": "hostile-key", "form": ${form}}`),
    ...[NUL, 'x'].map((key) => `{"accountId": "${accountId}", "creationKey": ${text(key)}, "form": {}}`),
    `{"accountId": "${accountId}", "creationKey": "lone ${LONE.slice(1, -1)} key", "form": {}}`,
    '{"accountId": "__proto__", "creationKey": "hostile-key", "form": {}}',
    '[',
    'null',
  ];
  const headers = { 'Content-Type': 'application/json' };
  for (const data of bodies) {
    const answer = await tester.put(`/api/runs/${runId}/draft`, { headers, data: Buffer.from(data) });
    await expectRefusal(answer, `PUT draft ${data.slice(0, 90)}`);
  }
  for (const data of opened) {
    const answer = await tester.post('/api/field/runs', { headers, data: Buffer.from(data) });
    await expectRefusal(answer, `POST field run ${data.slice(0, 140)}`);
  }
  expect(await logged()).toBe(before);
});

test('odd uploads are refused with a sentence, and nothing is stored', async () => {
  test.setTimeout(120_000);
  const runId = await firstDraft();
  const before = await logged();
  const names = [
    ...NAMES,
    NUL,
    'evidence.__proto__',
    'evidence.constructor',
    'evidence.',
    'trace',
    'sheet',
    'file',
  ];
  const files = [Buffer.from('\0\0'), Buffer.from('__proto__'), Buffer.from('<gpx><trk>'), Buffer.alloc(0)];
  const routes = [`/api/runs/${runId}/evidence`, `/api/runs/${runId}/trace`, '/my/loops/from-trace/upload'];
  const fileNames = ['__proto__', 'a\u0000b.csv', '../../x.gpx'];
  const uploads = names.flatMap((name, k) =>
    files.map((buffer, n) => ({ name, buffer, fileName: fileNames[(k + n) % fileNames.length] ?? '' })),
  );
  for (const route of routes) {
    await askAll([...uploads], async ({ name, buffer, fileName }) => {
      const multipart = { [name]: { name: fileName, mimeType: 'text/csv', buffer } };
      const answer = await tester.post(route, { multipart });
      await expectRefusal(answer, `${route} ${name} ${fileName} ${buffer.length} bytes`);
    });
    const body = await tester.post(route, { headers: { 'Content-Type': 'text/plain' }, data: '__proto__' });
    await expectRefusal(body, `${route} without a form`);
  }
  for (const id of ['__proto__', '%00', '99999999999999999999']) {
    await expectRefusal(await tester.delete(`/api/runs/${runId}/evidence/${id}`), `DELETE photo ${id}`);
    await expectRefusal(await tester.delete(`/api/runs/${id}/evidence/${id}`), `DELETE photo of ${id}`);
  }
  expect(await logged()).toBe(before);
});

/** The pages with forms; a form is posted as a browser without scripts posts it, so that its action answers. */
const FORM_PAGES: readonly [who: 'tester' | 'steward', path: string][] = [
  ['tester', '/my/cars'],
  ['tester', '/my/models/new'],
  ['tester', '/my/loops/new'],
  ['tester', '/my/setups/new'],
  ['tester', '/record'],
  ['tester', '/import'],
  ['tester', '/notifications'],
  ['steward', '/people'],
  ['steward', '/method-versions'],
  ['steward', '/shared-levels'],
  ['steward', '/rankings'],
  ['steward', '/sign-up'],
];

/**
 * Every value in some field of each form, and five in every field: that each field's parser stands each of them is
 * tried without a server.
 */
function mixed(names: readonly string[]): Record<string, string>[] {
  const step = Math.ceil(VALUES.length / POSTS);
  return Array.from({ length: POSTS }, (_, post) =>
    Object.fromEntries(names.map((name, k) => [name, VALUES[(post * step + k) % VALUES.length] ?? ''])),
  );
}
const POSTS = 5;

interface PostedForm {
  /** The same wherever the form stands: in a header, or once for each row of a list. */
  action: string;
  /** What the framework put there to find the action. */
  hidden: Record<string, string>;
  names: string[];
}

function formsIn(page: string): PostedForm[] {
  const decoded = (text: string) =>
    text.replaceAll('&quot;', '"').replaceAll('&#x27;', "'").replaceAll('&amp;', '&');
  return [...page.matchAll(/<form\b[^>]*>(.*?)<\/form>/gs)].flatMap(([, inside = '']) => {
    const hidden: Record<string, string> = {};
    const names = new Set<string>();
    for (const [tag] of inside.matchAll(/<(?:input|select|textarea|button)\b[^>]*>/g)) {
      const name = decoded(/\bname="([^"]*)"/.exec(tag)?.[1] ?? '');
      if (name.startsWith('$ACTION')) hidden[name] = decoded(/\bvalue="([^"]*)"/.exec(tag)?.[1] ?? '');
      else if (name !== '') names.add(name);
    }
    const [action = ''] = /[0-9a-f]{40,}/.exec(Object.entries(hidden).join(' ')) ?? [];
    return Object.keys(hidden).length > 0 ? [{ action, hidden, names: [...names] }] : [];
  });
}

test('every form action answers odd fields with a sentence', async () => {
  test.setTimeout(300_000);
  const cars = await (await tester.get('/my/cars')).text();
  const carId = /\/my\/cars\/([0-9a-f-]{36})/.exec(cars)?.[1];
  const runId = await firstDraft();
  const models = await (await steward.get('/models')).text();
  const model = /href="(\/models\/[^"?#/]+)"/.exec(models)?.[1];
  const pages = [
    ...FORM_PAGES,
    ['steward', `${model}/charging`],
    ['tester', `/my/cars/${carId}`],
    ['tester', `/my/cars/${carId}/change`],
    ['tester', `/record/${runId}`],
    ['tester', `/record/${runId}/trace`],
    ['tester', `/record/${runId}/weather`],
    ['tester', `/record/${runId}/loop`],
    // Last: one of its forms signs out.
    ['tester', '/account'],
  ] as const;
  const faults: string[] = [];
  const seen = new Set<string>();
  let posted = 0;
  for (const [who, path] of pages) {
    const asker = who === 'tester' ? tester : steward;
    const forms = formsIn(await (await asker.get(path)).text());
    for (const { action, hidden, names } of forms) {
      expect(action, `${path} (${names.join(', ')})`).not.toBe('');
      const form = `${action} ${names.join(' ')}`;
      if (seen.has(form)) continue;
      seen.add(form);
      await askAll(mixed([...names, ...NAMES]), async (typed) => {
        const answer = await asker.post(path, { multipart: { ...typed, ...hidden }, maxRedirects: 0 });
        posted += 1;
        const fault = faultIn(answer.status(), await answer.text());
        if (fault !== undefined) faults.push(`${path} (${names.join(', ')}) form ${posted}: ${fault}`);
      });
    }
  }
  expect(faults).toEqual([]);
  expect(posted).toBeGreaterThan(120);
});

async function expectRefusal(
  answer: Awaited<ReturnType<APIRequestContext['get']>>,
  what: string,
): Promise<void> {
  expect(answer.status(), what).toBeGreaterThanOrEqual(400);
  expect(answer.status(), what).toBeLessThan(500);
  const body = await answer.text();
  expect(body.length, `${what} says why`).toBeGreaterThan(20);
}
