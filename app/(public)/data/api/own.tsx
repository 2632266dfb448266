import { draftFields } from '@/app/api/v1/own/draftFields';
import { writeExamples } from '@/app/api/v1/own/examples';
import type { Operation } from '@/app/api/v1/own/operation';
import { Disclosure } from '@/app/ui/Disclosure';
import { Link } from '@/app/ui/Link';
import { Section } from '@/app/ui/Section';
import { scopeWords } from '@/lib/access/personalTokens';
import { Code } from '../Code';
import { Parts, partsOf } from './parts';

/** How a program writes for its tester: the way of one run, and what holds for all of it. */
export function OwnUse({ base }: { base: string }) {
  return (
    <Section id="own" title="Your own drafts and runs">
      <div className="prose">
        <p>
          Make a token on{' '}
          <Link className="link" href="/account/tokens">
            your page of tokens
          </Link>{' '}
          and send it with each request, as a header. A whole run, for a command line:
        </p>
        <ol>
          {writeExamples(base).map(({ words, command }) => (
            <li key={command}>
              {words}
              <Code label={words}>{command}</Code>
            </li>
          ))}
        </ol>
        <ul>
          <li>
            A draft keeps what was typed, right or wrong. What keeps it from being sent stands in{' '}
            <code>toDo</code>.
          </li>
          <li>
            A change says in If-Match which version it is made to. Where somebody changed the draft meanwhile
            it is refused (412), and nothing is written over unseen.
          </li>
          <li>
            Sent again with the same Idempotency-Key within 24 hours, a request is answered as it was and not
            done twice. A refusal is not kept.
          </li>
          <li>What is refused says why as problem details (RFC 9457), each fault with its place.</li>
          <li>
            A token begins with <code>evenloop_</code>, so that one in a published file is soon found. End it
            then.
          </li>
        </ul>
        <Disclosure title="The fields of a draft">
          <Parts label="The fields of a draft" parts={partsOf(draftFields)} />
        </Disclosure>
      </div>
    </Section>
  );
}

/** One thing that a program may do. */
export function OneOperation({ operation }: { operation: Operation }) {
  const { method, path, scope, query, sent, isOfVersion, answer } = operation;
  const asked = [
    ...partsOf(query),
    ...(sent?.kind === 'json' ? partsOf(sent.schema) : []),
    ...(sent?.kind === 'file' ? [{ name: 'body', description: 'The file itself' }] : []),
    ...(isOfVersion ? [{ name: 'If-Match', description: 'ETag of the draft that you saw' }] : []),
  ];
  return (
    <>
      <p>
        <code className="break-all">
          {method} {path}
        </code>
        <span className="text-ink-soft"> · needs “{scopeWords(scope)}”</span>
      </p>
      {asked.length === 0 ? null : <Parts label="What is sent" parts={asked} />}
      <Disclosure title="What is answered">
        <Parts label="What is answered" parts={partsOf(answer)} />
      </Disclosure>
    </>
  );
}
