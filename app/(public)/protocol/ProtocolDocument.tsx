import { DefinitionList } from '@/app/ui/DefinitionList';
import { Link } from '@/app/ui/Link';
import { Notice } from '@/app/ui/Notice';
import { PageHeader } from '@/app/ui/PageHeader';
import { Section } from '@/app/ui/Section';
import { VersionDifferences } from '@/app/ui/VersionDifferences';
import type { AnnouncedVersion, ProtocolPageView, VersionListed } from '@/lib/registry/protocol/protocolPage';
import { dateText, dayWords } from '@/lib/run/localDate';
import { Rules } from './Rules';

const day = (date: Date | null) => dayWords(dateText(date, '–'));

const STATUS_WORDS: Readonly<Record<string, string>> = { active: 'in force', retired: 'retired' };

/** One protocol version, whole: what a run is judged by. */
export function ProtocolDocument({ view }: { view: ProtocolPageView }) {
  const status = STATUS_WORDS[view.status] ?? view.status;
  return (
    <>
      <PageHeader title={`Protocol ${view.label}`} lead={view.summary} meta={lifeOf(view)} />
      {view.status === 'active' ? null : (
        <Notice kind="info" title={`This version is ${status}.`}>
          Runs judged under it keep it. The version in force is{' '}
          <Link className="link" href="/protocol">
            here
          </Link>
          .
        </Notice>
      )}
      {view.announced === undefined ? null : <Announcement of={view.announced} />}
      <Notice kind="info" title="The limits are the registry’s own starting values.">
        They follow the spirit of coast-down and real-driving practice, but none is a standard’s number. A
        steward may adopt a new version with other limits; every run names the version it was judged by, and
        nothing already decided is judged anew in silence.
      </Notice>
      {view.groups.length === 0 ? (
        <Notice kind="caution" title="This release of the registry cannot read the limits of this version.">
          Runs judged under it keep their findings.
        </Notice>
      ) : null}
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
      <Section
        id="versions"
        title="Versions"
        note="Published versions, the newest first, each with what it changed."
      >
        <ol className="space-y-8">
          {view.versions.map((version) => (
            <li key={version.label} id={`version-${version.label}`}>
              <h3>
                <Link className="link" href={`/protocol/${encodeURIComponent(version.label)}`}>
                  Version {version.label}
                </Link>
              </h3>
              <p className="num mt-1 text-sm text-ink-soft">{lifeOf(version)}</p>
              <p className="mt-2 max-w-[46rem]">{version.summary}</p>
              {version.since === undefined ? null : (
                <details className="mt-2" open={version.label === view.label}>
                  <summary className="disclosure">What changed since {version.since.label}</summary>
                  <div className="mt-2">
                    <VersionDifferences differences={version.since.differences} />
                  </div>
                </details>
              )}
            </li>
          ))}
        </ol>
      </Section>
    </>
  );
}

/** What judges runs that are sent in from a day on. */
function Announcement({ of: { label, summary, from, differences } }: { of: AnnouncedVersion }) {
  return (
    <Notice
      kind="caution"
      title={`Version ${label} comes into force as ${dayWords(from)} begins, at 00:00 UTC.`}
    >
      <p>{summary} Runs sent in before are judged by this version, and keep it.</p>
      {differences === undefined ? null : (
        <details>
          <summary className="disclosure">What will change</summary>
          <div className="mt-2">
            <VersionDifferences differences={differences} />
          </div>
        </details>
      )}
    </Notice>
  );
}

const lifeOf = ({ status, adoptedAt, retiredAt }: VersionListed): string =>
  status === 'active'
    ? `In force since ${day(adoptedAt)}`
    : `In force from ${day(adoptedAt)} to ${day(retiredAt)}`;
