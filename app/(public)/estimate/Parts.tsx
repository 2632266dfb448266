import { TableWithId } from '@/app/ui/DataTable';
import { Disclosure } from '@/app/ui/Disclosure';
import { Link } from '@/app/ui/Link';
import { PLUS_MINUS } from '@/app/ui/plusMinus';
import { Section } from '@/app/ui/Section';
import { Still } from '@/app/ui/Still';
import type { EstimatePart } from '@/lib/answers/estimateParts';
import { shareWords } from '@/lib/answers/estimateSentence';
import type { Answered } from '@/lib/registry/estimates/readEstimate';
import { setupInText } from '@/lib/run/setupTitle';
import type { Display } from '@/lib/units/display';
import { showNumber, showShare } from '@/lib/units/show';
import { PART_WORDS } from './words';

/** What is known from runs and what is believed, each with how much of the uncertainty it makes. */
export function Parts({ answered, display }: { answered: Answered; display: Display }) {
  const { first, of } = answered;
  const total = first.parts.reduce((sum, { variance }) => sum + variance, 0);
  const measured = first.parts.filter(({ basis }) => basis !== 'assumed');
  const assumed = first.parts.filter(({ basis }) => basis === 'assumed');
  const what = first.rangeM === null ? 'consumption' : 'range';
  return (
    <Section
      id="parts"
      title="What is measured, what is assumed"
      note={`How much each makes the ${what} uncertain. The largest decide; small ones hardly matter.`}
    >
      <Still className="grid gap-x-10 gap-y-6 md:grid-cols-2">
        <PartList title="Measured" parts={measured} total={total} />
        <PartList title="Assumed" parts={assumed} total={total} />
      </Still>
      <Disclosure
        title="The numbers behind it"
        says={`It starts from ${first.runs} runs of ${first.cars} cars at ${of.label}. ${PLUS_MINUS}`}
      >
        <Still>
          <TableWithId
            captionId="parts-numbers"
            caption={`What the ${what} of ${setupInText(first.title)} may be off by, in per cent of it`}
            rows={first.parts}
            rowKey={({ key, basis }) => `${key} ${basis}`}
            columns={[
              {
                key: 'part',
                header: 'Part',
                rowHeader: true,
                wide: true,
                cell: ({ key }) => PART_WORDS[key],
              },
              { key: 'basis', header: 'Basis', cell: ({ basis }) => BASIS_WORDS[basis] },
              {
                key: 'u',
                header: '±',
                unit: '%',
                align: 'end',
                cell: ({ variance }) => showNumber(100 * Math.sqrt(variance), 2, display),
              },
              {
                key: 'share',
                header: 'Of the variance',
                align: 'end',
                cell: ({ variance }) => showShare(variance / total, display),
              },
            ]}
          />
        </Still>
        <p className="mt-3 max-w-[46rem]">
          Each is a standard uncertainty; together they come to{' '}
          {showNumber(100 * Math.sqrt(total), 1, display)} %. What cars differ by holds the errors of their
          displays, so that a true range is known slightly better than is said here.{' '}
          <Link className="link" href="/method#estimate">
            How an estimate is made
          </Link>
        </p>
      </Disclosure>
    </Section>
  );
}

const BASIS_WORDS: Record<EstimatePart['basis'], string> = {
  measured: 'measured',
  partly: 'measured in part',
  assumed: 'assumed',
};

function PartList({ title, parts, total }: { title: string; parts: readonly EstimatePart[]; total: number }) {
  return (
    <div>
      <h3>{title}</h3>
      {parts.length === 0 ? (
        <p className="mt-2 text-sm text-ink-soft">Nothing.</p>
      ) : (
        <ul className="mt-2 text-sm">
          {parts.map(({ key, basis, variance }) => (
            <li
              key={`${key} ${basis}`}
              className="flex flex-wrap items-baseline justify-between gap-x-4 border-b border-rule py-1.5"
            >
              <span>
                {PART_WORDS[key]}
                {basis === 'partly' ? ' (measured only in part)' : null}
              </span>
              <span className="text-ink-soft">{shareWords(variance / total)}</span>
            </li>
          ))}
        </ul>
      )}
    </div>
  );
}
