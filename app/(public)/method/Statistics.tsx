import { Link } from '@/app/ui/Link';
import { Section } from '@/app/ui/Section';
import type { MethodPageView } from '@/lib/registry/method/methodPage';
import type { Display } from '@/lib/units/display';
import { showShare } from '@/lib/units/show';
import { Equation } from './Equation';

/** From many numbers to estimates, differences and ranks. */
export function Statistics({ view, display }: { view: MethodPageView; display: Display }) {
  const percent = (share: number) => showShare(share, display, { decimals: 1 });
  const { carSd, sessionSd, runSd } = view.youngClass;
  return (
    <Section
      id="statistics"
      title="From runs to rankings"
      note="Each cruise speed class is fitted by itself."
    >
      <div className="prose">
        <p>
          Cars, days and single drives all differ a little even when nothing was changed. How much each of
          them adds is estimated from the runs, so that what a setup does can be told from what luck does.
        </p>
      </div>
      <Equation
        label="Statistical model"
        where={[
          ['z', 'logarithm of a run’s normalised consumption: differences of z are ratios'],
          ['β', 'the setup'],
          ['T', 'a car, variance vT'],
          ['C', 'that car on one loop, variance vC'],
          ['S', 'a session: one day of that car on that loop, variance vS'],
          ['ε', 'the run, variance v and its own known uncertainty u²'],
        ]}
      >
        z = β(setup) + T(car) + C(car on loop) + S(session) + ε
      </Equation>
      <div className="prose">
        <p>
          The variances (how far cars, days and runs scatter, squared) are estimated by restricted maximum
          likelihood. Runs of one session share its session’s and its car’s deviation, so a difference of two
          setups within a session is surer than either number, while ten runs of one car say less about a
          model than one run each of ten. A car that drove two loops counts as one car: what it does
          differently on each loop is a deviation of its own.
        </p>
        <h3>Intervals</h3>
        <p>
          An interval says between which values the truth probably lies; one of 95 % is meant to hold it in 95
          of 100 cases. Few data make it wide: how few is counted as degrees of freedom, after Kenward and
          Roger while there are fewer than twenty cars, and after Satterthwaite from there on. A setup’s
          interval is one for the mean of its model’s cars, not for the next car or trip, which vary more. It
          holds the scatter of runs, days and cars that were seen, and what the method and the models’ data
          leave uncertain, as far as that does not cancel in a difference: within one model most of it does,
          across models most of it stays. Each pair has three: the pair taken alone, all comparable pairs of
          its model together, and all comparable pairs of the class together. In the last two a pair is held
          against the largest deviation among all of them, at the degrees of freedom of the pair itself
          (Hasler and Hothorn, 2008).
        </p>
        <h3 id="evidence">Settled, probable, leaning, undecided</h3>
        <p>
          The word beside a difference says how sure it is. A difference is settled when the last leaves zero
          out, probable when only the second does, leaning when only the first does, and undecided otherwise,
          which does not mean equal. Settled: at most one class in twenty has a false one. Probable: one model
          in twenty, so about one class of four or five models in five shows one where nothing differs.
          Leaning: one pair in twenty.
        </p>
        <h3 id="resting">What rests on one tester</h3>
        <p>
          A difference that rests on one tester is not settled, however narrow its interval: one with more
          than half of the influence on either setup, or without whom it would no longer be settled. It gets
          the next weaker word, and ranks follow. The influence on a setup is what a common factor on all of
          one tester’s runs of it would move; over all testers the shares add up to 1. A setup on which one
          tester has more than half has no place in the ranking: it stands in order with its number and its
          interval, and gets a place once others have driven it. Beside a rank stands what it would be without
          the tester whose absence changes it most. Nobody’s runs are weighted down for it: that would still
          let a mean be moved, and would move it for honest ones.
        </p>
        <p>
          Testers count as one where they share a car, a photo or a recording, and where they have a reviewer
          of their own: one who alone approved everything of theirs that counts, who approved more for them
          than for all others, and who is not the one that reads most of what counts. Two people who approved
          everything of each other count as one where a third reviewer was there to ask. A second reviewer who
          approves one run is enough to part them. Photos that only look alike join nobody once a steward has
          looked at them. Accounts that nobody vouches for, neither a steward nor a proved address, count as
          one together, and nothing is ranked on them alone. A run with the photo of another tester’s run does
          not count until a steward has looked at it.
        </p>
        <p>
          Whether the intervals hold is{' '}
          <Link className="link" href="/intervals">
            counted for every class
          </Link>{' '}
          on runs that came after them, and in simulated worlds whose truth is known. What a day’s heating,
          fans and weather may have done differs a little between the runs of that day. These differences are
          not scatter: one error in what is assumed of them moves all of the day’s runs, each by an amount
          that is known, so they are kept out of how far single runs scatter and go into each interval as far
          as they do not cancel in it.
        </p>
        <h3 id="factors">One change in several models</h3>
        <p>
          What a change does in each model is the difference of two of its setups that differ in nothing else.
          From three models on the mean is stated as well, and from five on what one more model would do. The
          true effect may vary from model to model: by how much is found from the models, drawn toward 0.5 %
          while they are few (common practice, no source; degrees of freedom after Satterthwaite). Only what
          hangs on the method is shared between models. Which levels are one thing is a steward’s decision,
          never the program’s. Cruise speed is asked in the same way of cars that drove one setup at both
          speeds.
        </p>
        <p>
          Such a mean is settled when its interval leaves zero out for all means of the class at once, by
          Bonferroni (of cruise speed, for all numbers about it), leaning when only its own does, and
          undecided otherwise. One in which a tester has more than half of the weight, counted by runs, is
          never settled.
        </p>
        <h3>Young classes</h3>
        <p>
          A class with few runs cannot see how cars, days and runs scatter. Until it can, it borrows:{' '}
          {percent(carSd)} between cars, {percent(sessionSd)} between days and {percent(runSd)} between runs
          (common practice, no source), each counted as four degrees of freedom that fade as the class grows.
          If a car’s runs scatter twice as much as assumed, an interval from one session of three runs holds
          in 81 % of cases instead of 95 %.
        </p>
        <h3>Ranks</h3>
        <p>
          A rank is the set of places that the differences leave open, such as 3–9 of 40. Setups with too few
          runs, sessions or cars are listed apart and say what they lack. A setup with a single run or a
          single car has no interval of its own; it says what one run of one car would be expected to vary by.
        </p>
        <h3>What may be compared</h3>
        <p>
          Two setups of one model need a car that has driven both, or a chain of such cars. Two models are
          seldom joined by a car: they are compared through the spread between cars, only with enough cars on
          both sides, and under the assumption that the testers’ cars are a fair sample of their models. A
          pair that neither a car nor enough cars join is refused.
        </p>
        <h3>Unusual runs</h3>
        <p>
          A run far from where the others place it goes to a second reviewer. None is left out by arithmetic
          alone, and how many were left out, and why, is printed beside the result.
        </p>
      </div>
    </Section>
  );
}
