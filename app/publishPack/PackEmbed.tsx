import { embedCode, embedSize } from '@/app/embed/embedCode';
import type { Embeddable } from '@/app/embed/embeddable';
import { Section } from '@/app/ui/Section';
import { CopyText } from './CopyText';

/** The figure as it stands whenever somebody looks, for a page of one's own. */
export function PackEmbed({ found }: { found: readonly (Embeddable & { name: string })[] }) {
  if (found.length === 0) return null;
  return (
    <Section
      id="embed"
      title="Live figure"
      note="For a page of your own. It follows the numbers, has light and dark, no scripts and no cookies, and its table inside. Where a page understands oEmbed, our address alone is enough."
    >
      {found.map((one) => (
        <div key={one.embedPath}>
          <CopyText label={`HTML for ${one.name}`} text={embedCode(one, embedSize(one))} rows={4} />
          <p className="-mt-3 mb-6 text-sm">
            <a className="link" href={one.embedPath}>
              See it by itself
            </a>
            ; with <code className="code">theme=light</code> or <code className="code">theme=dark</code> in
            its address it stays so.
          </p>
        </div>
      ))}
    </Section>
  );
}
