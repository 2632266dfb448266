import { Section } from '@/app/ui/Section';

/** What a model's own runs may change of its adjustments, and what that costs. */
export function Learned() {
  return (
    <Section
      id="learned"
      title="Learned road loads"
      note="A model’s own runs, at different speeds and in different air, tell its drag from its rolling."
    >
      <div className="prose">
        <p>
          Cars of one body are not alike. What a model’s own runs show of it can take the place of typical
          values, which are called priors here: what is believed before anything is measured. Each model’s
          page shows what its approved runs say of its drag and rolling. Where the runs of the other cars
          predict those of a car that was left out better than the priors do, and there are two cars or more,
          a steward may adopt what they say. Single runs are not left out for this: that would only show that
          runs of one car or day are alike. That is a new version of the method: every run of that world is
          computed again under its label, and the fits follow. The earlier results stay on each run’s page.
        </p>
        <h3>What is used for which run</h3>
        <ul>
          <li>A car’s own coast-down, drag area or rolling coefficient goes before everything else.</li>
          <li>
            Then comes what was adopted, with its uncertainty and the correlation of drag and rolling, for
            every setup of the model alike: its error is the same in all of them, so it largely cancels when
            two setups are compared. A setup that differs from the one it was learned from gets the learned
            value times what the priors say of the change, and a further uncertainty of its own. Ride height,
            openings and covers, roof and hitch items change the drag, tyre pressure the rolling, other wheels
            or tyres and another drive mode both. The priors know of one change only, another kind of tyre:
            for any other the value stays, and 5&nbsp;% is our own judgement of what it may do.
          </li>
          <li>
            Then come a drag area stated for the model, and the priors: also for every model whose runs do not
            beat them.
          </li>
        </ul>
        <h3>What to mind</h3>
        <p>
          A run that helped to find a road load is then adjusted by it: it is used twice. Each run is first
          scaled to its own measured energy, so its level comes from its own measurement; a road load only
          decides how the adjustment divides between drag and rolling, and one run’s weight in that is about
          one in the number of runs. The stated uncertainty is not widened for it. It is that of the model’s
          mean: how one car’s drag and rolling divide otherwise than its model’s is not in it. Learning always
          starts from the priors, never from what was adopted.
        </p>
      </div>
    </Section>
  );
}
