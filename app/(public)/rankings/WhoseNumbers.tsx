import { Link } from '@/app/ui/Link';
import { LinkTabs } from '@/app/ui/LinkTabs';
import type { OtherSource } from '@/lib/registry/otherRegistries/others';
import type { WorldKey } from '@/lib/run/world';
import { hrefWith, type SearchParams } from './query';

interface WhoseNumbersProps {
  others: readonly OtherSource[];
  /** The other registry whose ranking is shown, or shown below this one's. */
  shown: WorldKey | undefined;
  beside: WorldKey | undefined;
  params: SearchParams;
}

/** What an address says of our own list alone. */
const OF_OWN_LIST = [
  'from',
  'body',
  'model',
  'tyre',
  'level',
  'temp',
  'protocol',
  'runs',
  'cars',
  'show',
  'by',
];
const none = Object.fromEntries(OF_OWN_LIST.map((name) => [name, undefined]));

/** Whose ranking: this registry's, which it is unless asked, another's, or one below the other. Never one list of both. */
export function WhoseNumbers({ others, shown, beside, params }: WhoseNumbersProps) {
  if (others.length === 0) return null;
  return (
    <div className="no-print">
      <LinkTabs
        label="Whose numbers"
        tabs={[
          {
            href: hrefWith('/rankings', params, { world: undefined, beside: undefined, from: undefined }),
            label: 'This registry',
            current: shown === undefined,
          },
          ...others.map(({ world, name }) => ({
            href: hrefWith('/rankings', params, { ...none, world, beside: undefined }),
            label: name,
            current: shown === world,
          })),
        ]}
      />
      {shown === undefined ? (
        <p className="-mt-3 mb-6 flex flex-wrap gap-x-5 text-sm">
          {others.map(({ world, name }) => {
            const isBeside = world === beside;
            return (
              <Link
                key={world}
                className="link inline-flex min-h-8 items-center"
                href={`${hrefWith('/rankings', params, { beside: isBeside ? undefined : world })}${isBeside ? '' : '#other'}`}
              >
                {isBeside ? `Without ${name} below` : `Show ${name} below, in groups of its own`}
              </Link>
            );
          })}
        </p>
      ) : null}
    </div>
  );
}
