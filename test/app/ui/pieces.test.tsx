import { describe, expect, it } from 'vitest';
import { Breadcrumbs } from '@/app/ui/Breadcrumbs';
import { countText } from '@/app/ui/countText';
import { type Column, DataTable } from '@/app/ui/DataTable';
import { DefinitionList } from '@/app/ui/DefinitionList';
import { DemoMark } from '@/app/ui/DemoMark';
import { LinkButton } from '@/app/ui/LinkButton';
import { LinkTabs } from '@/app/ui/LinkTabs';
import { Notice, type NoticeKind } from '@/app/ui/Notice';
import { Outcome } from '@/app/ui/Outcome';
import { PageHeader } from '@/app/ui/PageHeader';
import { Pagination } from '@/app/ui/Pagination';
import { Quantity } from '@/app/ui/Quantity';
import { SafetyCaution, type SafetySetting } from '@/app/ui/SafetyCaution';
import { Section } from '@/app/ui/Section';
import { SiteHeader } from '@/app/ui/SiteHeader';
import { SkipLink } from '@/app/ui/SkipLink';
import { StatusTag } from '@/app/ui/StatusTag';
import { isCurrent, mainLinks } from '@/app/ui/siteMap';
import { OUTCOMES } from '@/lib/protocol/rule';
import { RUN_STATUSES } from '@/lib/run/runStatus';
import { all, byId, only, referenced, render, textOf } from './markup';

describe('the page', () => {
  it('has one h1 and says where it is', () => {
    const page = render(
      <PageHeader title="A run" breadcrumbs={[{ href: '/runs', label: 'Runs' }, { label: 'A run' }]} />,
    );
    expect(textOf(only(page, 'h1'))).toBe('A run');
    expect(only(page, 'nav').attributes['aria-label']).toBe('Breadcrumb');
  });

  it('marks the last crumb as the page one is on', () => {
    const page = render(<Breadcrumbs items={[{ href: '/runs', label: 'Runs' }, { label: 'A run' }]} />);
    const current = all(page, 'span').filter((span) => span.attributes['aria-current'] === 'page');
    expect(current.map(textOf)).toEqual(['A run']);
  });

  it('names its sections by their headings', () => {
    const page = render(
      <Section title="Findings" id="findings">
        <p />
      </Section>,
    );
    expect(referenced(page, byId(page, 'findings'), 'aria-labelledby')).toEqual(['Findings']);
  });

  it('offers every main link in the row and in the menu that needs no script', () => {
    const page = render(<SiteHeader account={<a href="/sign-in">Sign in</a>} />);
    const hrefs = (name: string) => all(only(page, name), 'a').map((a) => a.attributes.href);
    expect(hrefs('details')).toEqual(mainLinks.map((link) => link.href));
    expect(all(page, 'nav')).toHaveLength(2);
    expect(all(page, 'a').filter((a) => a.attributes.href === '/sign-in')).toHaveLength(1);
    expect(textOf(only(page, 'summary'))).toBe('Menu');
  });

  it('lets one skip to the content', () => {
    expect(only(render(<SkipLink />), 'a').attributes.href).toBe('#main');
  });

  it.each([
    ['/runs', '/runs', true],
    ['/runs/17', '/runs', true],
    ['/runsheet', '/runs', false],
    ['/', '/runs', false],
    [null, '/runs', false],
  ])('at %s the link to %s is current: %s', (pathname, href, expected) => {
    expect(isCurrent(pathname, href)).toBe(expected);
  });
});

describe('a table', () => {
  interface Finding {
    id: string;
    v: string;
  }
  const rows: Finding[] = [{ id: 'a', v: '1.0' }];
  const columns: Column<Finding>[] = [
    { key: 'id', header: 'Rule', rowHeader: true, cell: (row) => row.id },
    {
      key: 'v',
      header: 'Found',
      unit: 'km/h',
      align: 'end',
      sort: { href: '?sort=v', direction: 'descending' },
      cell: (row) => row.v,
    },
  ];
  const page = render(
    <DataTable caption="Findings" columns={columns} rows={rows} rowKey={(row) => row.id} />,
  );

  it('stands in a region that is named and can be scrolled by keyboard', () => {
    const region = only(page, 'section');
    expect(referenced(page, region, 'aria-labelledby')).toEqual(['Findings']);
    expect(region.attributes.tabindex ?? region.attributes.tabIndex).toBe('0');
    expect(region.attributes.class).toContain('overflow-x-auto');
  });

  it('has heads for columns and rows, with units and the way it is sorted', () => {
    expect(
      all(page, 'th').map((th) => [th.attributes.scope, textOf(th), th.attributes['aria-sort']]),
    ).toEqual([
      ['col', 'Rule', undefined],
      ['col', 'Found km/h', 'descending'],
      ['row', 'a', undefined],
    ]);
  });

  it('says so when it is empty', () => {
    const empty = render(
      <DataTable caption="F" columns={columns} rows={[]} rowKey={(r) => r.id} empty="No findings." />,
    );
    expect(
      all(empty, 'td').map((td) => [td.attributes.colSpan ?? td.attributes.colspan, textOf(td)]),
    ).toEqual([['2', 'No findings.']]);
  });
});

describe('states and outcomes', () => {
  const shape = (element: React.ReactElement) => JSON.stringify(only(render(element), 'svg').children);

  it('differ in word and in shape, never in colour alone', () => {
    const kinds = ['pass', 'caution', 'fail', 'notChecked'] as const;
    expect([...kinds].sort()).toEqual([...OUTCOMES].sort());
    expect(kinds.map((kind) => textOf(render(<Outcome outcome={kind} />)))).toEqual([
      'Pass',
      'Caution',
      'Fail',
      'Not checked',
    ]);
    expect(new Set(kinds.map((kind) => shape(<Outcome outcome={kind} />))).size).toBe(kinds.length);
  });

  it('cover every state of a run', () => {
    const states = [...RUN_STATUSES, 'claimed'] as const;
    expect(new Set(states.map((state) => textOf(render(<StatusTag state={state} />)))).size).toBe(
      states.length,
    );
    expect(new Set(states.map((state) => shape(<StatusTag state={state} />))).size).toBe(states.length);
  });

  it.each<[NoticeKind, string, string | undefined]>([
    ['info', 'Note: ', 'status'],
    ['caution', 'Caution: ', 'status'],
    ['problem', 'Problem: ', 'alert'],
    ['done', 'Done: ', 'status'],
  ])('a notice of kind %s begins with its word', (kind, word, role) => {
    const page = render(<Notice kind={kind} title="x" live />);
    expect(all(page, 'div')[0]?.attributes.role).toBe(role);
    expect(textOf(only(page, 'p'))).toBe(`${word}x`);
    expect(all(render(<Notice kind={kind} title="x" />), 'div')[0]?.attributes).not.toHaveProperty('role');
  });
});

describe('numbers', () => {
  it('counts in words, one and many', () => {
    expect(countText({ runs: 12, cars: 3, testers: 2, loops: 1 })).toBe(
      '12 runs · 3 cars · 2 testers · 1 loop',
    );
    expect(countText({ runs: 0, days: 1 })).toBe('0 runs · 1 day');
  });

  it('go with unit and interval', () => {
    const text = textOf(
      render(<Quantity value="196.4" unit="Wh/km" interval={{ low: '193.8', high: '199.1' }} />),
    );
    expect(text).toBe('196.4 Wh/km 95 % interval 193.8 to 199.1');
    expect(textOf(render(<Quantity value="1" unit="m" interval="one run: no own interval" />))).toContain(
      'no own interval',
    );
  });

  it('of a list are named', () => {
    const page = render(<DefinitionList items={[{ term: 'Wind', description: '3 m/s', note: 'report' }]} />);
    expect(textOf(only(page, 'dt'))).toBe('Wind');
    expect(textOf(only(page, 'dd'))).toBe('3 m/sreport');
  });
});

describe('moving about', () => {
  it('marks the tab and the page one is on', () => {
    const tabs = render(
      <LinkTabs
        label="Views"
        tabs={[
          { href: '#a', label: 'All', current: true },
          { href: '#b', label: 'B' },
        ]}
      />,
    );
    expect(all(tabs, 'a').map((a) => a.attributes['aria-current'])).toEqual(['page', undefined]);
  });

  it('pages with the ends, the neighbours and gaps', () => {
    const page = render(
      <Pagination page={6} pageCount={12} hrefFor={(n) => `?page=${n}`} label="Pages of runs" />,
    );
    expect(all(page, 'li').map(textOf)).toEqual(['Previous', '1', '…', '5', '6', '7', '…', '12', 'Next']);
    expect(
      all(page, 'a')
        .filter((a) => a.attributes['aria-current'] === 'page')
        .map(textOf),
    ).toEqual(['6']);
    expect(render(<Pagination page={1} pageCount={1} hrefFor={String} label="x" />).children).toEqual([]);
  });

  it('downloads by a plain link', () => {
    expect(
      only(
        render(
          <LinkButton href="/a.csv" download>
            CSV
          </LinkButton>,
        ),
        'a',
      ).attributes,
    ).toMatchObject({ href: '/a.csv', download: '' });
  });
});

describe('cautions', () => {
  it.each<[SafetySetting, RegExp]>([
    ['record', /parked/i],
    ['field', /parked or passenger only/i],
    ['plan', /never hold up traffic/i],
    ['study', /do not promise a range/i],
  ])('on a %s page put the law first and say what matters there', (kind, words) => {
    const text = textOf(render(<SafetyCaution kind={kind} />));
    expect(text).toMatch(/posted limits and local law come first/i);
    expect(text).toMatch(words);
  });

  it('say that demo data is invented', () => {
    expect(textOf(render(<DemoMark />))).toMatch(/invented data/);
    expect(textOf(render(<DemoMark inline />))).toMatch(/invented data/);
  });
});
