import { Section } from '@/app/ui/Section';
import { VersionDifferences } from '@/app/ui/VersionDifferences';
import type { ProtocolOfferView } from '@/lib/registry/protocol/protocolOffer';
import { PublishForm } from './PublishForm';

/** The version that this release ships against the one in force, and the way to put it in force. */
export function Publication({ view: { inForce, offered, mayPublish } }: { view: ProtocolOfferView }) {
  return (
    <>
      {offered === undefined ? (
        <p className="mt-6 max-w-[46rem] text-ink-soft">
          There is no newer version to publish: this release of the registry ships none that has not been in
          force here.
        </p>
      ) : (
        <Section
          id="differences"
          title={`Version ${offered.label} against ${inForce.label}`}
          note="Shipped with this release of the registry, not in force yet."
        >
          <p className="mb-4 max-w-[46rem]">{offered.summary}</p>
          <VersionDifferences differences={offered.differences} />
        </Section>
      )}
      <Section id="publish" title="Put in force">
        {offered && !mayPublish ? (
          <p className="max-w-[46rem] text-ink-soft">
            The protocol is the record’s as well. An account of the demo world reads what would change; only a
            steward of the registry puts it in force.
          </p>
        ) : (
          <PublishForm label={offered?.label} seenVersionId={inForce.id} inForceLabel={inForce.label} />
        )}
      </Section>
    </>
  );
}
