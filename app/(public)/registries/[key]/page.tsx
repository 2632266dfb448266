import type { Metadata } from 'next';
import { notFound } from 'next/navigation';
import { hrefWith } from '@/app/(public)/rankings/query';
import { DataTable } from '@/app/ui/DataTable';
import { DefinitionList } from '@/app/ui/DefinitionList';
import { Link } from '@/app/ui/Link';
import { LinkButton } from '@/app/ui/LinkButton';
import { PageHeader } from '@/app/ui/PageHeader';
import { Section } from '@/app/ui/Section';
import { Minute, ZoneNote } from '@/app/ui/When';
import { registry } from '@/app/visitor/registry';
import { readOtherPage } from '@/lib/registry/otherRegistries/otherPage';
import { OtherStrip } from '../OtherStrip';
import { NOT_INDEXED, otherWorld } from '../otherHref';

export const metadata: Metadata = { title: 'Another registry', ...NOT_INDEXED };
export const dynamic = 'force-dynamic';

export default async function OtherRegistryPage({ params }: { params: Promise<{ key: string }> }) {
  const view = await readOtherPage(registry(), otherWorld((await params).key));
  if (view === undefined) notFound();
  const { source, key, classes, protocols } = view;
  const rankingsOf = (classKey?: string) =>
    hrefWith('/rankings', {}, { class: classKey, world: source.world });
  return (
    <>
      <PageHeader
        title={source.name}
        lead="Another registry of runs like these. What it published is shown here apart from this one’s: it enters no estimate, no count and no answer of ours."
        actions={
          <LinkButton href={rankingsOf()} variant="primary">
            Its rankings
          </LinkButton>
        }
      />
      <OtherStrip source={source} />
      <Section title="What is shown" id="shown" note={<ZoneNote />}>
        <DefinitionList
          items={[
            { term: 'Snapshot', description: source.snapshot },
            { term: 'As of', description: <Minute at={source.asOf.toISOString()} /> },
            { term: 'Method', description: source.methodVersion },
            {
              term: 'Protocol',
              description: protocols
                .map(({ label, isActive }) => `${label}${isActive ? ' (in force there)' : ''}`)
                .join(', '),
            },
            { term: 'Runs', description: source.rows.runs ?? 0 },
            { term: 'Setups', description: source.rows.setups ?? 0 },
            {
              term: 'Licence',
              description: (
                <a className="link" href={source.licence.path} rel="license noreferrer">
                  {source.licence.value}
                </a>
              ),
            },
          ]}
        />
      </Section>
      <Section title="Its classes" id="classes" wide>
        <DataTable
          caption="Classes that it has ranked"
          captionHidden
          rows={classes}
          rowKey={(one) => one.key}
          columns={[
            {
              key: 'class',
              header: 'Class',
              rowHeader: true,
              cell: (one) => (
                <Link className="link" href={rankingsOf(one.key)}>
                  {one.label}
                </Link>
              ),
            },
            { key: 'runs', header: 'Runs', align: 'end', cell: (one) => one.runs },
          ]}
        />
      </Section>
      <Section
        title="Its key"
        id="key"
        note="What it publishes is signed. Whether the key is theirs no computer can tell: a steward of this registry took it for theirs, and says why."
      >
        {key === undefined ? (
          <p>No key is accepted for it any more.</p>
        ) : (
          <DefinitionList
            items={[
              { term: 'Key', description: key.id },
              { term: 'Accepted', description: <Minute at={key.acceptedAt.toISOString()} /> },
              { term: 'Why', description: key.reason },
            ]}
          />
        )}
      </Section>
    </>
  );
}
