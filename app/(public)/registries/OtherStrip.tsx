import { Link } from '@/app/ui/Link';
import { Day } from '@/app/ui/When';
import type { OtherSource } from '@/lib/registry/otherRegistries/others';
import { dateText } from '@/lib/run/localDate';
import { otherHref } from './otherHref';

/** Over every number of another registry: whose it is, as of when, signed by what, and what was and was not checked. */
export function OtherStrip({ source }: { source: OtherSource }) {
  const { origin, name, asOf, keyId, isInvented } = source;
  return (
    <aside
      aria-label="Whose numbers these are"
      className="my-6 border border-dashed border-rule-strong bg-caution-wash px-4 py-3 text-sm text-ink-soft"
    >
      <p>
        <strong className="font-semibold text-ink">Numbers of {name}, not of this registry.</strong> Published
        at{' '}
        <a className="link break-all" href={origin} rel="noreferrer nofollow">
          {origin}
        </a>
        , as of <Day of={dateText(asOf)} />, signed by the key <span className="num">{keyId}</span>.
      </p>
      <p className="mt-1">
        Every one of them was computed again here from their readings, and agrees. That their runs were driven
        as they say was not checked here. {isInvented ? 'They call these runs invented. ' : ''}
        <Link className="link" href={otherHref(source.world)}>
          What is shown of them
        </Link>
      </p>
    </aside>
  );
}
