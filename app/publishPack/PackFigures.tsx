import { DataTable } from '@/app/ui/DataTable';
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
        <div key={figure.table.caption} className="mb-8">
          <Figure figure={figure} />
          {address ? (
            <DataTable
              caption={`Files of: ${figure.table.caption}`}
              rows={figureFiles(figure, address)}
              rowKey={({ label }) => label}
              columns={[
                {
                  key: 'file',
                  header: 'File',
                  rowHeader: true,
                  cell: ({ label, href }) => (
                    <a className="link inline-flex min-h-8 items-center" href={href} download>
                      {label}
                    </a>
                  ),
                },
                { key: 'pixels', header: 'Pixels', align: 'end', cell: ({ pixels }) => pixels ?? 'any' },
              ]}
            />
          ) : null}
        </div>
      ))}
    </Section>
  );
}
