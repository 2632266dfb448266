import { READS_A_WINDOW, WINDOW_S } from '@/app/api/v1/allowance';
import { OPERATIONS } from '@/app/api/v1/own/operations';
import type { Resource } from '@/app/api/v1/resource';
import { RESOURCES } from '@/app/api/v1/resources';
import { publicAddress } from '@/app/runDossier/publicAddress';
import { Disclosure } from '@/app/ui/Disclosure';
import { PageHeader } from '@/app/ui/PageHeader';
import { pageMetadata } from '@/app/ui/pageMetadata';
import { Section } from '@/app/ui/Section';
import { OneOperation, OwnUse } from './own';
import { Parts, partsOf } from './parts';

export const metadata = pageMetadata('api');
export const dynamic = 'force-dynamic';

/** The same as the description that programs read: both are made from the schemas that answers are parsed by. */
export default function ApiPage() {
  const base = publicAddress('/api/v1');
  return (
    <>
      <PageHeader
        title="For programs"
        lead="Every published number can be read by a program, without signing in. With a token of yours it also writes your drafts and sends them in."
        meta={
          <a className="link" href="/data">
            All of it in one file
          </a>
        }
      />
      <Section id="use" title="How it works">
        <div className="prose">
          <p>
            Addresses begin with <code className="break-all">{base}</code>. A program that makes clients by
            itself reads{' '}
            <a className="link" href="/api/v1/openapi.json">
              the description by OpenAPI 3.1
            </a>
            .
          </p>
          <p>Two examples, for a command line:</p>
          <ul>
            <li>
              <code className="break-all">curl '{base}/rankings?class=kmh-110'</code>
            </li>
            <li>
              <code className="break-all">curl -H 'Accept: text/csv' '{base}/runs?class=kmh-110'</code>
            </li>
          </ul>
          <ul>
            <li>Energies per distance are in Wh/km, speeds in m/s, lengths in m, shares from 0 to 1.</li>
            <li>
              An interval is one of 95 % unless it says otherwise. Results are estimates under stated
              conditions, never a promise of range.
            </li>
            <li>
              Lists come in pages: send the cursor of <code>next</code> as <code>from</code>.
            </li>
            <li>
              Answers carry an ETag. Sent back in If-None-Match it saves the answer where nothing changed.
            </li>
            <li>
              {READS_A_WINDOW} reads in {WINDOW_S / 60} minutes for one network; what is left stands in
              RateLimit.
            </li>
            <li>What cannot be answered says why as problem details (RFC 9457).</li>
          </ul>
        </div>
      </Section>
      {RESOURCES.map((resource) => (
        <Section key={resource.id} id={resource.id} title={resource.summary}>
          <One resource={resource} />
        </Section>
      ))}
      <OwnUse base={base} />
      {OPERATIONS.map((operation) => (
        <Section key={operation.id} id={operation.id} title={operation.summary}>
          <OneOperation operation={operation} />
        </Section>
      ))}
    </>
  );
}

function One({ resource }: { resource: Resource }) {
  const asked = [...partsOf(resource.parts), ...partsOf(resource.query)];
  const answered = partsOf(resource.answer);
  return (
    <>
      <p>
        <code className="break-all">GET {resource.path}</code>
        {resource.list === undefined ? null : (
          <span className="text-ink-soft">
            {' '}
            · as CSV: <code>{resource.list}</code>
          </span>
        )}
      </p>
      {asked.length === 0 ? null : <Parts label="What the address says" parts={asked} />}
      <Disclosure title="What is answered">
        <Parts label="What is answered" parts={answered} />
      </Disclosure>
    </>
  );
}
