import { Link } from '@/app/ui/Link';
import { Section } from '@/app/ui/Section';
import type { MethodPageView } from '@/lib/registry/method/methodPage';
import type { Display } from '@/lib/units/display';
import { showQuantity } from '@/lib/units/show';
import { Equation } from './Equation';

/** From a setup's estimate at reference conditions to what a further car would do on a trip of its own. */
export function Estimate({ view, display }: { view: MethodPageView; display: Display }) {
  const { coldestC, hottestC, cruiseFromClassMps } = view.reach;
  const limit = (celsius: number) => showQuantity(celsius, 'temperature', display, { decimals: 0 });
  const off = showQuantity(cruiseFromClassMps, 'speed', display);
  return (
    <Section
      id="estimate"
      title="What would mine do"
      note="From a setup’s number to a trip of a car that nobody measured."
    >
      <div className="prose">
        <p>
          <Link className="link" href="/estimate">
            An estimate
          </Link>{' '}
          takes a setup’s number at reference conditions and runs the adjustment of a run backwards, from
          there to the conditions asked for. It is meant for one trip of another car of the model, so that it
          holds how cars, days and trips differ beside what the number itself may be off by.
        </p>
      </div>
      <Equation
        label="Estimate for a reader"
        where={[
          ['e(x)', 'consumption under the conditions x'],
          ['β', 'the setup, as fitted in the class nearest in speed'],
          ['r(x)', 'road load under x over that at reference conditions, scaled to the setup’s own'],
          ['T, C, S, ε', 'the further car, its road, its day and the trip, as in the class’s fit'],
        ]}
      >
        ln e(x) = β + ln r(x) + T + C + S + ε
      </Equation>
      <div className="prose">
        <p>
          What is believed of the model stands behind the number and behind the conditions alike: at the
          conditions of the runs it cancels, and only what the asked conditions add stays. Two setups side by
          side share car, day, road, battery and charger, so their difference is known far better than either
          number. Degrees of freedom are those of Satterthwaite; times and costs are simulated with a fixed
          seed, because the number of stops jumps.
        </p>
        <p>
          How cars differ is seen on their displays, each of which has an error of its own. So the interval of
          a range, which is of energy and not of what a display says, is slightly too wide.
        </p>
        <p>
          Energy of the battery: as measured on the car, else what a new one of the model holds, less what is
          lost with age; a battery below 10 °C at departure gives less of it, and what it did not give is paid
          for when it is charged again. Charging follows the curve that the model’s data sheet states, else an
          assumed one. Both, and how sure they are, stand among{' '}
          <a className="link" href="#priors">
            what is assumed
          </a>
          . Outside {limit(coldestC)} to {limit(hottestC)}, in strong wind, more than {off} from the nearest
          class or on so steep a descent that the car would brake for much of the way, no number is given, and
          the nearest condition that has one is named.
        </p>
      </div>
    </Section>
  );
}
