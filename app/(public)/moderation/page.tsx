import type { Metadata } from 'next';
import { DataTable } from '@/app/ui/DataTable';
import { DemoMark } from '@/app/ui/DemoMark';
import { PageHeader } from '@/app/ui/PageHeader';
import { Section } from '@/app/ui/Section';
import { readerDisplay } from '@/app/visitor/display';
import { registry } from '@/app/visitor/registry';
import { SECOND_APPROVAL, SECOND_REASONS, secondReasonWords } from '@/lib/protocol/secondApproval';
import { readModeration, type WorldModeration } from '@/lib/registry/review/moderation';
import { LEAST_PAIRS, RE_REVIEW_SHARE } from '@/lib/stats/reReview';
import type { Display } from '@/lib/units/display';
import { showNumber } from '@/lib/units/show';

export const metadata: Metadata = { title: 'How decisions are made' };
export const dynamic = 'force-dynamic';

const WORDS = ['approve', 'ask for changes', 'reject'] as const;

/** Who decides what by which rules, and how far two reviewers agree. */
export default async function ModerationPage() {
  const [worlds, display] = await Promise.all([readModeration(registry()), readerDisplay({})]);
  return (
    <>
      <PageHeader
        title="How decisions are made"
        lead="Reviewers decide on runs of others. Some decisions are read again by lot, and how far the two agree is counted here."
      />
      {worlds.map((of) => (
        <Section
          key={of.world}
          id={`agreement-${of.world}`}
          title={of.world === 'demo' ? 'Agreement in the demo world' : 'Agreement of two reviewers'}
          note={`A share of ${showNumber(100 * RE_REVIEW_SHARE, 0, display)} % of decisions is drawn for another reviewer, who does not see the first.`}
        >
          {of.world === 'demo' ? <DemoMark /> : null}
          <Agreement of={of} display={display} />
        </Section>
      ))}
      <Section id="second" title="When two have to approve">
        <p className="max-w-[38rem]">
          A run needs a second approval where {SECOND_REASONS.map(secondReasonWords).join('; or ')}. The first
          runs are {SECOND_APPROVAL.firstRuns}; of a tester’s latest {SECOND_APPROVAL.pairAmong} approvals at
          least {SECOND_APPROVAL.pairLeast} and half by one reviewer are most of them. It is asked for only
          where another reviewer may give it. Nobody decides on a run of their own, or where they declared an
          interest.
        </p>
      </Section>
      <Section id="appeals" title="Appeals">
        <p className="max-w-[38rem]">
          A tester may appeal against a rejection once a revision. Another reviewer then decides anew; both
          decisions stay in the run’s trail.
        </p>
      </Section>
    </>
  );
}

function Agreement({ of, display }: { of: WorldModeration; display: Display }) {
  const { counts, kappa, pairs, table } = of;
  const two = (value: number) => showNumber(value, 2, display);
  return (
    <>
      <p className="num mb-4 max-w-[38rem]">
        {kappa === null
          ? `${pairs} of ${counts.drawn} drawn decisions were read again: too few to say. From ${LEAST_PAIRS} on the agreement is given as a number.`
          : `Beyond chance, two reviewers agree by a kappa of ${two(kappa.kappa)} (95 % interval ${two(kappa.low)} to ${two(kappa.high)}), where 1 is full agreement and 0 what chance would give; ${pairs} decisions were read again, ${showNumber(100 * kappa.observed, 0, display)} % came out the same.`}
      </p>
      {pairs > 0 ? (
        <DataTable
          caption="Decisions that were read again: the first by row, the second by column"
          rows={table.map((row, place) => ({ word: WORDS[place] ?? '', row }))}
          rowKey={({ word }) => word}
          columns={[
            { key: 'first', header: 'First', rowHeader: true, cell: ({ word }) => word },
            ...WORDS.map((word, place) => ({
              key: word,
              header: word,
              align: 'end' as const,
              cell: ({ row }: { row: number[] }) => row[place] ?? 0,
            })),
          ]}
        />
      ) : null}
      <p className="num mt-4 text-sm text-ink-soft">
        {counts.decisions} decisions · {counts.seconded} asked for a second approval, {counts.waitingSecond}{' '}
        wait for one · {counts.appeals} appeals, {counts.overturned} of them approved since
      </p>
      <p className="mt-2 max-w-[38rem] text-sm text-ink-soft">
        Kappa is (p − c)/(1 − c), p the share of equal decisions and c the share that chance would give (Cohen
        1960); its standard error is that of Fleiss, Cohen and Everitt (1969).
      </p>
    </>
  );
}
