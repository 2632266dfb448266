import type { Metadata } from 'next';
import { Code } from '@/app/(public)/data/Code';
import { otherHref } from '@/app/(public)/registries/otherHref';
import { DataTable } from '@/app/ui/DataTable';
import { EmptyState } from '@/app/ui/EmptyState';
import { Link } from '@/app/ui/Link';
import { Notice } from '@/app/ui/Notice';
import { PageHeader } from '@/app/ui/PageHeader';
import { Section } from '@/app/ui/Section';
import { Minute, ZoneNote } from '@/app/ui/When';
import { WorkProgress } from '@/app/ui/WorkProgress';
import { requireSignedIn } from '@/app/visitor/actor';
import { forRole } from '@/app/visitor/forRole';
import { registry } from '@/app/visitor/registry';
import { type OtherReceived, type OthersKept, readOthersKept } from '@/lib/registry/otherRegistries/others';
import { MOST_POSTED_BYTES } from '@/lib/registry/otherRegistries/receive';
import { worldKey } from '@/lib/run/world';
import { KeyForms, RemoveForm, UploadForm } from './Forms';

export const metadata: Metadata = { title: 'Other registries' };
export const dynamic = 'force-dynamic';

export default async function OtherRegistriesPage() {
  const view = await forRole(readOthersKept(registry(), await requireSignedIn('/other-registries')));
  const asked = view.received.filter(({ state }) => state === 'keyAsked');
  const checking = view.received.filter(({ state }) => state === 'checking');
  return (
    <>
      <PageHeader
        title="Other registries"
        lead="Numbers of others, each registry in a world of its own. A snapshot is shown once you have accepted its key and every number of it was computed again here. Nothing of it enters this registry’s estimates, counts or answers."
      />
      {asked.map((one) => (
        <KeyAsked key={one.id} received={one} />
      ))}
      {checking.map(({ id, name, progress }) => (
        <WorkProgress
          key={id}
          progress={progress}
          title={`${name} is being checked.`}
          words="runs computed again"
        />
      ))}
      <Shown view={view} />
      <Section
        title="Bring in a snapshot"
        id="upload"
        note="A newer one takes the place of the one that is shown. Until it is checked, nothing changes."
      >
        <UploadForm mostMegabytes={Math.floor(MOST_POSTED_BYTES / 1024 / 1024)} />
      </Section>
      <Received received={view.received} />
    </>
  );
}

function KeyAsked({ received }: { received: OtherReceived }) {
  const { id, name, origin, keyId, acceptedKeyId, publicKey } = received;
  const isChange = acceptedKeyId !== null;
  return (
    <Section
      title={`Is this the key of ${origin}?`}
      id={`key-${id}`}
      note={`It signed ${name}. The signature fits; whose key it is, the file cannot prove.`}
    >
      {isChange ? (
        <Notice kind="caution" title={`Another key is accepted for it: ${acceptedKeyId}.`}>
          Whoever lost a key or had it stolen changes it. So does somebody who signs in their name.
        </Notice>
      ) : null}
      <p>
        Key <strong className="num font-semibold">{keyId}</strong>
      </p>
      <Code label={`Public key ${keyId}`}>{publicKey.trim()}</Code>
      <KeyForms snapshotId={id} keyId={keyId} origin={origin} isChange={isChange} />
    </Section>
  );
}

function Shown({ view }: { view: OthersKept }) {
  const rows = view.registries.flatMap(({ shown, ...one }) =>
    shown === undefined ? [] : [{ ...one, shown }],
  );
  return (
    <Section title="Shown" id="shown" wide>
      {rows.length === 0 ? (
        <EmptyState title="No other registry is shown." />
      ) : (
        <DataTable
          caption={<ZoneNote />}
          rows={rows}
          rowKey={({ world }) => world}
          columns={[
            {
              key: 'origin',
              header: 'Registry',
              rowHeader: true,
              cell: ({ origin, world }) => (
                <Link className="link break-all" href={otherHref(worldKey(world))}>
                  {origin}
                </Link>
              ),
            },
            { key: 'asOf', header: 'As of', cell: ({ shown }) => <Minute at={shown.asOf.toISOString()} /> },
            { key: 'runs', header: 'Runs', align: 'end', cell: ({ shown }) => shown.rows.runs ?? 0 },
            {
              key: 'key',
              header: 'Accepted key',
              wide: true,
              cell: ({ keyId, keyReason }) => (
                <>
                  <span className="num">{keyId ?? 'none'}</span>
                  <span className="block text-ink-soft">{keyReason}</span>
                </>
              ),
            },
            {
              key: 'remove',
              header: 'Change',
              wide: true,
              cell: ({ shown, origin }) => <RemoveForm snapshotId={shown.id} origin={origin} />,
            },
          ]}
        />
      )}
    </Section>
  );
}

const STATES = {
  keyAsked: 'its key waits for an answer',
  checking: 'is being checked',
  shown: 'shown',
  refused: 'refused',
  replaced: 'replaced by a newer one',
  removed: 'removed',
} as const satisfies Record<OtherReceived['state'], string>;

function Received({ received }: { received: readonly OtherReceived[] }) {
  if (received.length === 0) return null;
  return (
    <Section title="What was brought in" id="received" wide>
      <DataTable
        caption={<ZoneNote />}
        rows={received}
        rowKey={({ id }) => id}
        columns={[
          {
            key: 'name',
            header: 'Snapshot',
            rowHeader: true,
            cell: ({ name, origin }) => (
              <>
                <span className="break-all">{name}</span>
                <span className="block break-all text-ink-soft">{origin}</span>
              </>
            ),
          },
          {
            key: 'at',
            header: 'Received',
            cell: ({ receivedAt }) => <Minute at={receivedAt.toISOString()} />,
          },
          { key: 'key', header: 'Key', cell: ({ keyId }) => <span className="num">{keyId}</span> },
          {
            key: 'state',
            header: 'What became of it',
            wide: true,
            answer: true,
            cell: ({ state, says }) => (
              <>
                {STATES[state]}
                {says === null ? null : <span className="block break-words text-ink-soft">{says}</span>}
              </>
            ),
          },
        ]}
      />
    </Section>
  );
}
