import { DataTable } from '@/app/ui/DataTable';
import { DefinitionList } from '@/app/ui/DefinitionList';
import { Section } from '@/app/ui/Section';
import type { MethodPageView } from '@/lib/registry/method/methodPage';
import type { Display } from '@/lib/units/display';
import { showNumber, showQuantity } from '@/lib/units/show';
import { Equation } from './Equation';

/** Step by step, in the words that the run page uses. */
const STEP_WORDS: Readonly<Record<MethodPageView['steps'][number], readonly [name: string, what: string]>> = {
  auxiliary: ['Auxiliary power', 'heating, cooling and electronics as driven, to the reference power'],
  elevation: ['Elevation', 'what start and finish differ in height, to none'],
  stops: ['Stops and slow-downs', 'braking and speeding up again, to none'],
  wind: ['Wind', 'the squares of along-wind and crosswind that a loop does not cancel, to calm'],
  density: ['Air density', 'the air of the day, to the reference density'],
  rollingTemperature: ['Rolling temperature', 'the tyres’ resistance at the air temperature, to 20 °C'],
  speed: ['Speed', 'the cruise as driven, to the exact speed of the class'],
};

/** From readings to a number that may be compared: measured quantity, model, reference, steps. */
export function ToReference({ view, display }: { view: MethodPageView; display: Display }) {
  const { reference } = view;
  return (
    <>
      <Section id="measured" title="What is measured">
        <div className="prose">
          <p>
            What is measured is the energy that the battery gave, divided by the true distance, over a whole
            loop. A display may show it several ways: as energy and as consumption, both by one counter; a
            drop of charge and a charger tell it once more. Each is taken with the interval that its last
            digit leaves open. What the counter shows is combined by weighted least squares; charge and
            charger, whose conversion is known to a few per cent only, check it and are not averaged with it.
            When they do not agree within their uncertainties, the run says so and names the reading that
            stands out. That the counter itself may be a per cent off is added afterwards.
          </p>
          <p>
            The distance is the loop’s own length. Where that is not known to 1 %, it is joined with the car’s
            odometer and its calibration, each by its weight.
          </p>
        </div>
        <Equation
          label="Measured consumption"
          where={[
            ['e', 'consumption, Wh/km'],
            ['E', 'energy from the battery'],
            ['D', 'true distance'],
          ]}
        >
          e = E / D
        </Equation>
      </Section>
      <Section id="model" title="The model at the battery" note="Road load as in coast-down practice.">
        <div className="prose">
          <p>
            The model says where the energy goes: into the air that the car pushes aside, into its tyres, into
            climbs and braking, and into heating and electronics.
          </p>
        </div>
        <Equation
          label="Consumption model"
          where={[
            ['ρ, CdA', 'air density and drag area'],
            ['M₂', 'mean of squared true speed over the distance; v² at a steady speed'],
            ['w, c', 'root mean square of wind along and across the road, at car height'],
            ['κ', 'rise of drag with yaw'],
            ['Crr, K₀', 'rolling coefficient at 20 °C and its change with temperature'],
            ['m, g, Δh', 'mass, gravity, height of the finish above the start'],
            ['S', 'energy of stops and ramps that braking does not give back, per distance'],
            ['η', 'efficiency from battery to wheel'],
            ['P, t', 'auxiliary power and duration'],
          ]}
        >
          e = [ ½ ρ CdA (M₂ + w² + (1 + κ) c²) + Crr m g / (1 + K₀ (T − 20 °C)) + m g Δh/D + S ] / η + P t/D
        </Equation>
        <div className="prose">
          <p>
            On a road out and back, a wind along it helps on one leg nearly as much as it hinders on the other
            (to first order, they cancel). What goes with its square stays, and so does every crosswind: a
            loop makes wind small, not nothing.
          </p>
          <p>
            While a car slows down, its own motion pays for drag and rolling; only what is left is braked, and
            a part of that comes back into the battery. Only this rest is in S.
          </p>
          <p>
            Consumption follows the cruise speed, not the mean speed. A run without a recording takes M₂ and
            the slow-downs from recordings that others made of its loop, and only where there are none from
            the loop’s stretches off cruise, solved so that distance and duration agree.
          </p>
          <h3>Recordings</h3>
          <p>
            Fixes of a receiver are off by metres, and their errors last for seconds to minutes. Positions are
            smoothed by a Kalman filter and its backward pass (Rauch, Tung and Striebel), over about three
            seconds, and less where the car brakes or turns. What noise is left in the speed is estimated from
            the recording itself and taken off its square and its cube, so that it makes no distance longer
            and no mean square larger. Where the recording closes and agrees with the loop’s length, its
            speeds and lengths are brought to the weighted mean of both. On drives of known speed with errors
            of 3 m, M₂ comes out within 0.1 % and the distance within 0.05 % on average, from one to ten fixes
            a second and down to four decimals of a degree. A recording is reduced when it is sent, and a run
            keeps what it was then: reductions from before this smoothing stay as they were.
          </p>
        </div>
      </Section>
      <Section id="reference" title="Reference conditions">
        <p className="mb-4 max-w-[46rem]">
          Runs are driven in all sorts of weather. To be compared, each is worked out for the same conditions:
          a mild, calm day on a level road.
        </p>
        <DefinitionList
          items={[
            { term: 'Speed', description: 'the exact speed of the class, steady' },
            {
              term: 'Air temperature',
              description: showQuantity(reference.airTemperatureC, 'temperature', display, { decimals: 0 }),
            },
            {
              term: 'Air density',
              description: `${showNumber(reference.airDensityKgM3, 3, display)} kg/m³`,
              note: '20 °C and 100 kPa, as in UN GTR No. 15',
            },
            {
              term: 'Auxiliary power',
              description: showQuantity(reference.auxiliaryPowerW, 'W', display, { decimals: 0 }),
              note: 'our own choice',
            },
            { term: 'Wind, climb, stops', description: 'none' },
          ]}
        />
      </Section>
      <Section
        id="steps"
        title="The steps, in order"
        note="The order is fixed, so that a step has one size. Their sum is exactly the adjustment."
      >
        <div className="prose">
          <p>
            One condition after the other is swapped for its reference, and the number changes a little each
            time. Before that the model’s road load is scaled so that, under the conditions of the day, it
            gives what was measured.
          </p>
        </div>
        <Equation
          label="Scale of the road load"
          where={[
            ['e', 'as measured'],
            ['a, h', 'auxiliary power and climb, as the model has them that day'],
            ['d, r, b', 'drag, rolling and stops, as the model has them that day'],
          ]}
        >
          s = (e − a − h) / (d + r + b)
        </Equation>
        <DataTable
          caption="Adjustment steps"
          captionHidden
          rows={view.steps.map((step, index) => ({ step, place: index + 1 }))}
          rowKey={({ step }) => step}
          columns={[
            { key: 'place', header: 'No.', cell: ({ place }) => place },
            { key: 'step', header: 'Step', rowHeader: true, cell: ({ step }) => STEP_WORDS[step][0] },
            { key: 'what', header: 'What it takes out', wide: true, cell: ({ step }) => STEP_WORDS[step][1] },
          ]}
        />
      </Section>
      <Section id="uncertainty" title="Uncertainty of one run">
        <div className="prose">
          <p>
            No reading is exact, so every result says what it may be off by. Every input has a standard
            uncertainty (what it may be off by), a distribution and a scope: it may belong to the run alone or
            be shared by a session, a car, a model or all runs of the method. Contributions are combined as
            the Guide to the Expression of Uncertainty in Measurement sets out, with effective degrees of
            freedom, and checked against random draws of the same inputs.
          </p>
          <p>
            The interval of one run is for that run: what it would have taken at reference conditions. It does
            not hold what another run, day or car would differ by; the fit adds that.
          </p>
          <p>
            The scope decides what cancels. Two runs of one session share the weather station’s error, so it
            drops out of their difference; it would be wrong to count it there, and wrong to forget it beside
            the number itself.
          </p>
        </div>
        <Equation
          label="Combined standard uncertainty"
          where={[
            ['cᵢ', 'sensitivity of the result to input i'],
            ['uᵢ, νᵢ', 'its standard uncertainty and degrees of freedom'],
          ]}
        >
          u² = Σ (cᵢ uᵢ)² &emsp; ν = u⁴ / Σ ((cᵢ uᵢ)⁴ / νᵢ) &emsp; interval e ± t(0.975, ν) · u
        </Equation>
      </Section>
    </>
  );
}
