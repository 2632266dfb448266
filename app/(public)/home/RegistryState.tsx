import { Link } from '@/app/ui/Link';
import { Section } from '@/app/ui/Section';
import type { HomeView } from '@/lib/registry/home/home';

/** The registry in counts, each with the page that lists what is counted. */
export function RegistryState({ counts }: { counts: HomeView['counts'] }) {
  const items = [
    { label: 'approved runs', count: counts.approved, href: '/runs' },
    { label: 'setups driven', count: counts.setups, href: '/rankings' },
    { label: 'models', count: counts.models, href: '/models' },
    { label: 'cars', count: counts.cars },
    { label: 'testers', count: counts.testers },
    { label: 'loops', count: counts.loops, href: '/loops' },
  ];
  return (
    <Section id="state" title="The registry today">
      <dl className="grid grid-cols-2 gap-x-8 gap-y-5 sm:grid-cols-3">
        {items.map(({ label, count, href }) => (
          <div key={label} className="flex flex-col-reverse">
            <dt className="text-sm text-ink-soft">
              {href ? (
                <Link className="link" href={href}>
                  {label}
                </Link>
              ) : (
                label
              )}
            </dt>
            <dd className="num font-serif text-3xl font-semibold">{count}</dd>
          </div>
        ))}
      </dl>
    </Section>
  );
}
