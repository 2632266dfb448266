import { publicAddress } from '@/app/runDossier/publicAddress';
import { DatasetData } from '@/app/ui/DatasetData';
import { DemoMark } from '@/app/ui/DemoMark';
import { EmptyState } from '@/app/ui/EmptyState';
import { KeysetPages } from '@/app/ui/KeysetPages';
import { Link } from '@/app/ui/Link';
import { LinkTabs } from '@/app/ui/LinkTabs';
import { PageHeader } from '@/app/ui/PageHeader';
import { pageMetadata } from '@/app/ui/pageMetadata';
import { Section } from '@/app/ui/Section';
import { signedIn } from '@/app/visitor/actor';
import { readerDisplay } from '@/app/visitor/display';
import { registry } from '@/app/visitor/registry';
import { may } from '@/lib/access/permissions';
import { PYTHON_EXAMPLE, R_EXAMPLE } from '@/lib/openData/examples';
import { LICENCES } from '@/lib/openData/licences';
import { readSnapshots } from '@/lib/registry/openData/snapshots';
import { readOthers } from '@/lib/registry/otherRegistries/others';
import { RECORD, worldTitle } from '@/lib/run/world';
import { hrefWith, one, type SearchParams } from '../rankings/query';
import { Code } from './Code';
import { LicenceForm } from './LicenceForm';
import { OtherRegistries } from './OtherRegistries';
import { SnapshotTable } from './SnapshotTable';

export const metadata = pageMetadata('data');
export const dynamic = 'force-dynamic';

export default async function DataPage({ searchParams }: { searchParams: Promise<SearchParams> }) {
  const params = await searchParams;
  const [view, others, display, actor] = await Promise.all([
    readSnapshots(registry(), { world: one(params, 'world'), from: one(params, 'from') }),
    readOthers(registry()),
    readerDisplay(params),
    signedIn(),
  ]);
  const [latest] = view.rows;
  return (
    <>
      <PageHeader
        title="Data"
        lead="Everything that is published here, to take away: readings, inputs, results, fits and differences in one file, complete enough to compute every number again."
        meta={
          <span className="flex flex-wrap gap-x-6">
            <Link className="link" href="/data/columns">
              What each column is
            </Link>
            <Link className="link" href="/data/api">
              The same for programs, piece by piece
            </Link>
          </span>
        }
      />
      {latest === undefined ? null : (
        <DatasetData
          name={`Evenloop, ${latest.name}`}
          description="Runs of electric cars with readings, conditions and inputs, their results at reference conditions, and the fits and differences made of them."
          path="/data"
          archive={`/data/${latest.name}.zip`}
        />
      )}
      <Section
        title="Snapshots"
        id="snapshots"
        wide
        note="Made once a day when something changed, and never changed afterwards. It names people by pseudonyms; their names are looked up here, so that whoever is erased stays erased."
      >
        {view.worlds.length > 1 ? (
          <LinkTabs
            label="Of which world"
            tabs={view.worlds.map((world) => ({
              href: hrefWith('/data', params, {
                world: world === RECORD ? undefined : world,
                from: undefined,
              }),
              label: worldTitle(world),
              current: world === view.world,
            }))}
          />
        ) : null}
        {view.world === 'demo' ? <DemoMark /> : null}
        {latest === undefined ? (
          <EmptyState title="No snapshot yet.">
            The first one is made within a day of the first approved run.
          </EmptyState>
        ) : (
          <SnapshotTable rows={view.rows} display={display} />
        )}
        <KeysetPages
          previous={view.previous}
          next={view.next}
          label="Pages of snapshots"
          hrefFor={(from) => hrefWith('/data', params, { from })}
        />
      </Section>
      <OtherRegistries others={others} />
      <Section title="To cite" id="cite" note="The name says which record it is of, when, and what is in it.">
        {latest === undefined ? (
          <p>A citation names the snapshot that its numbers are from.</p>
        ) : (
          <p className="break-words">
            Evenloop, {latest.name}. {publicAddress(`/data/${latest.name}.zip`)}. SHA-256{' '}
            <span className="num break-all">{latest.sha256}</span>. {latest.licence.value}.
          </p>
        )}
      </Section>
      <Section
        title="To check"
        id="check"
        note="Needs this program and no database. It computes every result, fit, rank set and difference again."
      >
        <Code label="Command that verifies a snapshot">{`npm run snapshot:verify -- ${latest?.name ?? 'FILE'}.zip --public-key key.pem`}</Code>
        <p className="mt-4">
          Snapshots are signed (Ed25519) by the key <span className="num break-all">{view.signedBy.id}</span>:
        </p>
        <Code label="Public key of this registry">{view.signedBy.pem}</Code>
      </Section>
      <Section
        title="To compute with"
        id="example"
        note="A published difference of two setups, computed again from the tables of an unpacked snapshot: generalised least squares with the fit’s own variances."
      >
        <h3>R</h3>
        <Code label="Example in R">{R_EXAMPLE}</Code>
        <h3 className="mt-6">Python</h3>
        <Code label="Example in Python">{PYTHON_EXAMPLE}</Code>
      </Section>
      <Section title="Licence" id="licence">
        <p>
          <a className="link" href={view.licence.path} rel="license noreferrer">
            {view.licence.title}
          </a>{' '}
          for the snapshots to come; each says its own.
        </p>
        {may(actor, 'chooseLicence', undefined, RECORD) ? (
          <LicenceForm
            chosen={view.licence.value}
            licences={LICENCES.map(({ value, label }) => ({ value, label }))}
          />
        ) : null}
      </Section>
    </>
  );
}
