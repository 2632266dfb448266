import { Section } from '@/app/ui/Section';
import type { MethodPageView } from '@/lib/registry/method/methodPage';
import type { Display } from '@/lib/units/display';
import { showQuantity } from '@/lib/units/show';

/** Where the method is known to be wrong or does not reach. */
export function Limitations({ view, display }: { view: MethodPageView; display: Display }) {
  const { reach } = view;
  return (
    <Section
      id="limitations"
      title="Limitations"
      note="What is known to be rough, and where no number is given at all."
    >
      <div className="prose">
        <h3>Outside its reach</h3>
        <ul>
          <li>Rain, snow, and roads that are wet or covered: their resistance is not modelled.</li>
          <li>
            Air below {showQuantity(reach.coldestC, 'temperature', display, { decimals: 0 })} or above{' '}
            {showQuantity(reach.hottestC, 'temperature', display, { decimals: 0 })}.
          </li>
          <li>
            Wind above {showQuantity(reach.windAtCarHeightMps, 'wind', display, { decimals: 0 })} at car
            height, about a half more at the height of a weather mast.
          </li>
          <li>
            A cruise more than {showQuantity(reach.cruiseFromClassMps, 'speed', display, { decimals: 0 })}{' '}
            from its class.
          </li>
        </ul>
        <h3>Known to be rough</h3>
        <ul>
          <li>
            Between −20 and 5 °C and above 40 °C the tyres’ temperature law is extrapolated; its uncertainty
            is doubled there.
          </li>
          <li>
            Crosswind is the largest term of a windy run: the rise of drag with yaw differs from car to car
            and is known for few. Gusts and shelter by hedges, walls and cuttings are only widths.
          </li>
          <li>
            A station’s wind is brought from 10 m down to car height by one factor, the same over sea and
            forest.
          </li>
          <li>
            Battery temperature, tyre warm-up, the wake of traffic and the road surface are not corrected.
            They widen the uncertainty and are recorded. A cold battery only ever takes more, so a run in the
            cold is more likely too high than too low.
          </li>
          <li>
            Without any recording of a loop, the mean square of the speed is solved from the duration and
            comes out about 0.7 % low.
          </li>
          <li>
            What braking costs is known to 30 %. On an energy model of its own, with up to five slow-downs a
            run, results come out 0.1 to 0.2 % high.
          </li>
          <li>
            One efficiency stands for the whole way from battery to wheel, at every speed and load of a class.
          </li>
          <li>
            A display’s energy is taken as the battery’s, with a standard uncertainty of 1 % for its scale, of
            which more runs of one car take nothing away. Whether a maker’s display counts heating before the
            start, or the battery’s own losses, is not known.
          </li>
          <li>
            Repeatability is one figure for a class. A setup whose runs scatter more than others gets an
            interval that is too narrow, and one that scatters less gets one too wide.
          </li>
          <li>
            What a car does differently from loop to loop is estimated only where five cars or more of a class
            drove two loops. Elsewhere it comes from all classes together, or counts as nothing; the fit says
            which.
          </li>
          <li>Testers choose what they drive. The record is no random sample of cars, roads or weather.</li>
        </ul>
        <p>Nothing here promises a range. An estimate holds for the conditions stated beside it.</p>
      </div>
    </Section>
  );
}
