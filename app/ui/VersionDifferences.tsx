import type { VersionDifferences as Differences } from '@/lib/protocol/compareVersions';
import type { RuleDescription } from '@/lib/protocol/ruleCatalogue';

/** What one protocol version changes against the one before it: rules, limits, words. */
export function VersionDifferences({ differences }: { differences: Differences }) {
  const { added, dropped, changes } = differences;
  if (added.length + dropped.length + changes.length === 0) return <p>No rule and no limit changed.</p>;
  return (
    <div className="space-y-4">
      <RuleList title="New rules" rules={added} />
      <RuleList title="Rules that no longer judge" rules={dropped} />
      {changes.length === 0 ? (
        <p>All other limits stay as they were.</p>
      ) : (
        <div>
          <p className="font-semibold">Limits that changed</p>
          <ul className="num mt-1 list-disc space-y-1 pl-5">
            {changes.map((change) => (
              <li key={`${change.path} ${change.isRetrospective}`}>{change.sentence}</li>
            ))}
          </ul>
        </div>
      )}
    </div>
  );
}

function RuleList({ title, rules }: { title: string; rules: readonly RuleDescription[] }) {
  if (rules.length === 0) return null;
  return (
    <div>
      <p className="font-semibold">{title}</p>
      <ul className="mt-1 list-disc space-y-3 pl-5">
        {rules.map((rule) => (
          <li key={rule.id}>
            <p>
              {rule.group}: <span className="font-semibold">{rule.title}</span>
            </p>
            <RuleLimits rule={rule} />
            <p className="mt-1 max-w-[46rem] text-sm">{rule.why}</p>
            <p className="mt-1 max-w-[46rem] text-sm text-ink-soft">
              {rule.guidance} Judged: {rule.appliesTo}
            </p>
          </li>
        ))}
      </ul>
    </div>
  );
}

/** The limits of a rule in words, with those for runs recorded afterwards where they are others. */
export function RuleLimits({ rule }: { rule: RuleDescription }) {
  return (
    <p className="num mt-1 font-semibold">
      {rule.limits}
      {rule.retrospectiveLimits === undefined ? null : (
        <span className="mt-1 block">
          <span className="font-normal text-ink-soft">Recorded afterwards:</span> {rule.retrospectiveLimits}
        </span>
      )}
    </p>
  );
}
