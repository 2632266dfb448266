import { Section } from '@/app/ui/Section';
import { RuleLimits } from '@/app/ui/VersionDifferences';
import type { RuleGroupDescription } from '@/lib/protocol/ruleCatalogue';

/** The rules of one group, each at an address of its own, so that a decision can point at it. */
export function Rules({ group: { group, rules } }: { group: RuleGroupDescription }) {
  return (
    <Section id={group.toLowerCase()} title={group}>
      <div>
        {rules.map((rule) => (
          <article
            key={rule.id}
            id={rule.id}
            aria-labelledby={`${rule.id}-title`}
            className="scroll-mt-4 border-b border-rule py-4 first:pt-0 last:border-b-0"
          >
            <h3 id={`${rule.id}-title`}>{rule.title}</h3>
            <RuleLimits rule={rule} />
            <p className="mt-2 max-w-[46rem] text-sm">{rule.why}</p>
            <p className="mt-2 max-w-[46rem] text-sm text-ink-soft">
              <span className="font-semibold">To meet it:</span> {rule.guidance}{' '}
              <span className="font-semibold">Judged:</span> {rule.appliesTo}
            </p>
          </article>
        ))}
      </div>
    </Section>
  );
}
