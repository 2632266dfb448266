import { Notice } from '@/app/ui/Notice';
import type { RunView } from '@/lib/registry/runs/run';

/** That the rules in force today would not let it pass: it counts all the same, by those that it was reviewed with. */
export function FailsToday({ today }: Pick<RunView, 'today'>) {
  if (today === null) return null;
  return (
    <Notice kind="caution" title={`It would fail today, by version ${today.protocolLabel} of the protocol.`}>
      <ul>
        {today.failing.map(({ ruleId, title, sentence }) => (
          <li key={ruleId}>
            <strong>{title}.</strong> {sentence}
          </li>
        ))}
      </ul>
      <p>What was decided by the version that it was sent in under stands.</p>
    </Notice>
  );
}
