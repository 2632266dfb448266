import { DataTable } from '@/app/ui/DataTable';
import { Link } from '@/app/ui/Link';
import { Section } from '@/app/ui/Section';
import { EVER_WRONG, EVER_WRONG_LOOKS, EVER_WRONG_STUDIES } from '@/lib/stats/monitoringSimulated';
import type { Display } from '@/lib/units/display';
import { showNumber, showShare } from '@/lib/units/show';
import { Equation } from './Equation';

/** How a study may be looked at after every day without fooling whoever looks. */
export function Studies({ display }: { display: Display }) {
  return (
    <Section
      id="studies"
      title="Studies"
      note="A question with a plan that was fixed before driving, looked at after every day."
    >
      <div className="prose">
        <p>
          Whoever drives a{' '}
          <Link className="link" href="/studies">
            study
          </Link>{' '}
          looks after every day, and stops when it looks settled. An interval made for one look then leaves
          the truth out far more often than one time in twenty. While a study runs, its page therefore shows
          an interval that holds at all looks at once. The narrower one, made for the one look at the end, is
          shown only when everything that was planned was driven and the plan was never changed.
        </p>
      </div>
      <Equation
        label="Half-width of the interval that holds at every look"
        where={[
          ['H', 'sum over days with both of n·m/(n + m), n and m being the runs of each'],
          ['Q', 'squares left over by setup and day, and 4 times the variance of a run that the class says'],
          ['k', '1 + 8 H'],
          ['R', '(√k/α) to the power 2/(ν + 5), ν being the degrees of freedom left over'],
        ]}
      >
        √( Q (R − 1) / (H (1 − R/k)) )
      </Equation>
      <div className="prose">
        <p>
          Where days disagree about the difference by more than runs do (an F test at 5&nbsp;%), days are
          counted in place of runs, with an interval of the same kind on the differences of the days. A study
          with several questions divides α = 0.05 among them. Runs belong to a study when they are sent in, by
          fitting its plan, so that nobody can choose them by their results; days that were added by hand, and
          runs that left the plan, are marked.
        </p>
        <p>
          What the class lends is how well its runs repeat. It holds on average over cars like the class’s; a
          car that scatters twice as much is misjudged more often, as the table says.
        </p>
      </div>
      <DataTable
        caption={`How often a study of two setups that do not differ is told that they do, at any of ${EVER_WRONG_LOOKS} looks (${showNumber(EVER_WRONG_STUDIES, 0, display)} simulated studies each)`}
        rows={EVER_WRONG}
        rowKey={({ words }) => words}
        columns={[
          { key: 'words', header: 'What is true', rowHeader: true, wide: true, cell: ({ words }) => words },
          {
            key: 'share',
            header: 'Ever wrong',
            align: 'end',
            answer: true,
            cell: ({ share }) => showShare(share, display),
          },
        ]}
      />
      <div className="prose">
        <p>
          Sources: T. L. Lai (1976), Annals of Statistics 4, 265; M. F. Perez-Ortiz, T. Lardy, R. de Heide, P.
          Grünwald (2022), arXiv 2208.07610; H. Wang, A. Ramdas (2024), arXiv 2310.03722.
        </p>
        <h3 id="next">What to drive next</h3>
        <p>
          What a further day would do to a difference follows from the fit before anybody drives it: its runs
          would change the equations of one car alone, by an amount that depends on which setups are driven
          and how often, not on what comes out.{' '}
          <Link className="link" href="/requests">
            What to drive next
          </Link>{' '}
          reckons for each open difference of two setups of one model, one factor apart, by how much its 95 %
          interval would narrow for an hour of driving, setting up and charging: a day of A B B A, of A B, or
          a single run, in a car that is known here or in one that is new. The variances of cars, days and
          runs are held as fitted, the degrees of freedom stay those of now, and what all runs share does not
          shrink. A day in a known car counts for what that car drove already (J. Sherman, W. J. Morrison
          (1950), Annals of Mathematical Statistics 21, 124).
        </p>
      </div>
    </Section>
  );
}
