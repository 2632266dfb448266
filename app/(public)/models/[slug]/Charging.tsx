import { DataTable } from '@/app/ui/DataTable';
import { Disclosure } from '@/app/ui/Disclosure';
import { Figure } from '@/app/ui/figures/Figure';
import { Link } from '@/app/ui/Link';
import { LinkButton } from '@/app/ui/LinkButton';
import { Section } from '@/app/ui/Section';
import { signedIn } from '@/app/visitor/actor';
import { registry } from '@/app/visitor/registry';
import { type ChargingView, readCharging } from '@/lib/registry/models/charging';
import { dateText, dayWords } from '@/lib/run/localDate';
import type { Display } from '@/lib/units/display';
import { chargingFigure, pointText, powerText, spanText } from './chargingFigure';

type Sheet = NonNullable<ChargingView['sheet']>;

/** How fast the model charges: as somebody stated it, with the source beside it, or as it is assumed. */
export async function Charging({ slug, display }: { slug: string; display: Display }) {
  const view = await readCharging(registry(), await signedIn(), slug);
  if (view === undefined) return null;
  const { sheet, earlier } = view;
  const figure = chargingFigure(view, display);
  return (
    <Section
      id="charging"
      title="Charging"
      note="As people state it, with the source; not measured here."
      actions={
        view.mayState ? <LinkButton href={`/models/${slug}/charging`}>State how it charges</LinkButton> : null
      }
      wide
    >
      <p className="max-w-[46rem]">{summary(view, display)}</p>
      {sheet === null ? null : (
        <p className="mt-2 max-w-[46rem] text-sm break-words text-ink-soft">
          {sheet.peakPowerW === null ? null : `Peak ${powerText(sheet.peakPowerW, display)}. `}
          Source: {sheet.source}. Stated by <StatedBy sheet={sheet} />.
        </p>
      )}
      {figure === undefined ? null : <Figure figure={figure} isTitleSaid />}
      {earlier.length === 0 ? null : (
        <Disclosure title="What was stated before">
          <DataTable
            caption="Earlier statements, the latest first"
            captionHidden
            rows={earlier}
            rowKey={({ statedAt, source }) => `${statedAt.toISOString()} ${source}`}
            columns={[
              { key: 'day', header: 'Stated', rowHeader: true, cell: (one) => dayOf(one) },
              {
                key: 'curve',
                header: 'Curve',
                cell: ({ points }) =>
                  points.length === 0 ? 'none' : points.map((point) => pointText(point, display)).join(' · '),
              },
              {
                key: 'peak',
                header: 'Peak',
                align: 'end',
                cell: ({ peakPowerW }) => (peakPowerW === null ? 'none' : powerText(peakPowerW, display)),
              },
              { key: 'source', header: 'Source', cell: ({ source }) => source },
            ]}
          />
        </Disclosure>
      )}
    </Section>
  );
}

function summary(view: ChargingView, display: Display): string {
  const { curve, sheet, usableCapacityWh } = view;
  const span = spanText(view, display);
  if (curve === null) {
    return sheet === null
      ? 'Nobody has stated how this model charges, and without its usable capacity no curve can be assumed.'
      : 'Only its peak power is stated, and without its usable capacity no curve can be assumed below it.';
  }
  if (span === undefined || usableCapacityWh === null)
    return 'Its usable capacity is not stated, so that no charging time follows from the curve.';
  const charges = `Charges from ${span}, with a warm battery, at a charger that gives all the car takes`;
  return curve.basis === 'stated'
    ? `${charges}.`
    : `${charges}: this is assumed, since nobody has stated ${sheet === null ? 'how this model charges' : 'its curve'}.`;
}

function StatedBy({ sheet: { statedBy, statedAt } }: { sheet: Sheet }) {
  return (
    <>
      <Link className="link" href={`/testers/${statedBy.slug}`}>
        {statedBy.displayName}
      </Link>{' '}
      on {dayWords(dateText(statedAt))}
    </>
  );
}

function dayOf({ statedAt }: Sheet): string {
  return dayWords(dateText(statedAt));
}
