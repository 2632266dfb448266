import { Section } from '@/app/ui/Section';
import { Equation } from './Equation';

/** From many numbers to estimates, differences and ranks. */
export function Statistics() {
  return (
    <Section
      id="statistics"
      title="From runs to rankings"
      note="Each cruise speed class is fitted by itself."
    >
      <Equation
        label="Statistical model"
        where={[
          ['z', 'logarithm of a run’s normalised consumption: differences of z are ratios'],
          ['β', 'the setup'],
          ['T', 'a car on a loop, variance vT'],
          ['S', 'a session: one day of that car on that loop, variance vS'],
          ['ε', 'the run, variance v and its own known uncertainty u²'],
        ]}
      >
        z = β(setup) + T(car on loop) + S(session) + ε
      </Equation>
      <div className="prose">
        <p>
          The variances are estimated by restricted maximum likelihood. Runs of one session share its
          session’s and its car’s deviation, so a difference of two setups within a session is surer than
          either number, while ten runs of one car say less about a model than one run each of ten.
        </p>
        <h3>Intervals</h3>
        <p>
          They use degrees of freedom after Kenward and Roger while there are fewer than twenty cars on loops,
          and after Satterthwaite from there on. The intervals of all pairs of a class are made wide enough to
          hold together in 95 % of cases. Two setups are called separable only when that wider interval leaves
          zero out.
        </p>
        <h3>Ranks</h3>
        <p>
          A rank is the set of places that the differences leave open, such as 3–9 of 40. Setups with too few
          runs, sessions or cars are listed apart and say what they lack. A setup with a single run has no
          interval of its own; it shows the repeatability typical of the class.
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
