import Link from 'next/link';
import { DataTable } from '@/app/ui/DataTable';
import { DefinitionList } from '@/app/ui/DefinitionList';
import { Notice } from '@/app/ui/Notice';
import { PageHeader } from '@/app/ui/PageHeader';
import { Section } from '@/app/ui/Section';
import type { ProtocolPageView } from '@/lib/registry/protocol/protocolPage';
import { Rules } from './Rules';

const day = (date: Date | null) => date?.toISOString().slice(0, 10) ?? '–';

const STATUS_WORDS: Readonly<Record<string, string>> = { active: 'in force', retired: 'retired' };

/** One protocol version, whole: what a run is judged by. */
export function ProtocolDocument({ view }: { view: ProtocolPageView }) {
  const status = STATUS_WORDS[view.status] ?? view.status;
  return (
    <>
      <PageHeader
        title={`Protocol ${view.label}`}
        lead={view.summary}
        meta={`${status} since ${day(view.adoptedAt)}`}
      />
      {view.status === 'active' ? null : (
        <Notice kind="info" title={`This version is ${status}.`}>
          Runs judged under it keep it. The version in force is{' '}
          <Link className="link" href="/protocol">
            here
          </Link>
          .
        </Notice>
      )}
      <Notice kind="info" title="The limits are the registry’s own starting values.">
        They follow the spirit of coast-down and real-driving practice, but none is a standard’s number. A
        steward may adopt a new version with other limits; every run names the version it was judged by, and
        nothing already decided is judged anew in silence.
      </Notice>
      <nav aria-label="Rule groups" className="no-print mb-8">
        <ul className="flex flex-wrap gap-x-4 gap-y-1 text-sm">
          {view.groups.map(({ group, rules }) => (
            <li key={group}>
              <a className="link inline-flex min-h-8 items-center" href={`#${group.toLowerCase()}`}>
                {group} ({rules.length})
              </a>
            </li>
          ))}
        </ul>
      </nav>
      {view.groups.map((group) => (
        <Rules key={group.group} group={group} />
      ))}
      <Section
        id="further"
        title="Ranking and second looks"
        note="No rule of a run, but part of the version all the same."
      >
        <DefinitionList
          items={view.further.map(({ label, value }) => ({ term: label, description: value }))}
        />
      </Section>
      {view.previousLabel === undefined ? null : (
        <Section id="changes" title={`What changed since ${view.previousLabel}`}>
          {view.changes.length === 0 ? (
            <p>No limit changed.</p>
          ) : (
            <ul className="list-disc space-y-1 pl-5">
              {view.changes.map((change) => (
                <li key={change.path}>{change.sentence}</li>
              ))}
            </ul>
          )}
        </Section>
      )}
      <Section id="versions" title="Versions" wide>
        <DataTable
          caption="Published versions, the newest first"
          captionHidden
          rows={view.versions}
          rowKey={(version) => version.label}
          columns={[
            {
              key: 'label',
              header: 'Version',
              rowHeader: true,
              cell: (version) => (
                <Link className="link" href={`/protocol/${encodeURIComponent(version.label)}`}>
                  {version.label}
                </Link>
              ),
            },
            {
              key: 'status',
              header: 'State',
              cell: (version) => STATUS_WORDS[version.status] ?? version.status,
            },
            { key: 'adopted', header: 'Adopted', cell: (version) => day(version.adoptedAt) },
            { key: 'retired', header: 'Retired', cell: (version) => day(version.retiredAt) },
            { key: 'summary', header: 'Summary', wide: true, cell: (version) => version.summary },
          ]}
        />
      </Section>
    </>
  );
}
