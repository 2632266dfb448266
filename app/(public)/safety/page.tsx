import { Link } from '@/app/ui/Link';
import { PageHeader } from '@/app/ui/PageHeader';
import { pageMetadata } from '@/app/ui/pageMetadata';
import { Section } from '@/app/ui/Section';
import { Privacy } from './Privacy';

export const metadata = pageMetadata('safety');

export default function SafetyPage() {
  return (
    <>
      <PageHeader
        title="Safety and privacy"
        lead="A run is a drive on a public road before it is a measurement. When the two disagree, the drive wins and the run is given up."
      />
      <Section id="law" title="Law and limits">
        <div className="prose">
          <p>
            Posted limits and local law come first, always. A cruise class above a loop’s posted limit is
            refused when the run is sent in, but the sign beside the road counts, not the number stored here:
            limits change with works, weather and time of day.
          </p>
          <p>
            Do not block traffic. A class far below the flow of a motorway belongs on another road or at
            another hour; leave at the next exit rather than be an obstacle.
          </p>
        </div>
      </Section>
      <Section id="driving" title="While driving">
        <div className="prose">
          <ul>
            <li>Enter readings only when parked, or let a passenger do it. No number is worth a glance.</li>
            <li>
              Keep a safe gap. Driving close behind another vehicle is dangerous, and the protocol does not
              accept a run in its wake.
            </li>
            <li>
              Driving aids do not replace the driver. A set speed is lifted whenever the road asks for it; a
              run takes a slow-down better than you take a collision.
            </li>
            <li>Stop at the turnaround only where stopping is allowed and safe.</li>
            <li>Do not run the battery down to find out where it ends. The protocol asks for a reserve.</li>
            <li>Break off when it rains, when wind pushes the car about, or when you are tired.</li>
          </ul>
        </div>
      </Section>
      <Section id="car" title="The car">
        <div className="prose">
          <ul>
            <li>
              Keep cold tyre pressures within the range on the vehicle’s placard, whatever a comparison would
              like to know.
            </li>
            <li>
              Stay within the permitted loads, and secure ballast and whatever is on the roof or the hitch.
            </li>
            <li>
              Covers, lowered suspensions and other changes have to be lawful where you drive, and must not
              hide lamps, plates or sensors.
            </li>
          </ul>
        </div>
      </Section>
      <Section id="numbers" title="What the numbers are for">
        <div className="prose">
          <p>
            They are estimates under stated conditions: steady speed, mild and dry air, no wind. They do not
            promise a range. Rain, cold, wind, climbs and traffic take more, and a journey needs a reserve.
            How they are made, and where they are known to be wrong, is on the{' '}
            <Link href="/method">method page</Link>.
          </p>
        </div>
      </Section>
      <Privacy />
    </>
  );
}
