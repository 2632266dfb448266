import type { FigureDescription } from '@/app/ui/figures/description';
import { Figure } from '@/app/ui/figures/Figure';
import { figureFiles } from '@/app/ui/figures/figureFiles';
import { Section } from '@/app/ui/Section';

/** Each figure as it will be seen, and its files for a video, a phone and a page. */
export function PackFigures({ figures }: { figures: readonly FigureDescription[] }) {
  return (
    <Section
      id="figures"
      title="Figures as files"
      note="Free to be shown, with the address that stands in them. SVG holds its letters and is sharp at every size."
      wide
    >
      {figures.map(({ address, ...figure }) => (
        <div key={figure.table.caption} className="mb-10">
          <Figure figure={figure} />
          {address ? (
            <ul aria-label={`Files of: ${figure.table.caption}`} className="flex flex-wrap gap-x-6 gap-y-1">
              {figureFiles(figure, address).map(({ label, href, pixels }) => (
                <li key={label}>
                  <a className="link inline-flex min-h-8 items-center" href={href} download>
                    {label}
                    {pixels ? <span className="num text-ink-soft">, {pixels}</span> : null}
                  </a>
                </li>
              ))}
            </ul>
          ) : null}
        </div>
      ))}
    </Section>
  );
}
