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
          Each model’s page shows what its approved runs say of its drag and rolling. Where the runs of the
          other cars predict those of a car that was left out better than the priors do, and there are two
          cars or more, a steward may adopt what they say. Single runs are not left out for this: that would
          only show that runs of one car or day are alike. That is a new version of the method: every run of
          that world is computed again under its label, and the fits follow. The earlier results stay on each
          run’s page.
        </p>
        <h3>What is used for which run</h3>
        <ul>
          <li>A car’s own coast-down, drag area or rolling coefficient goes before everything else.</li>
          <li>
            Then comes what was adopted, with its uncertainty and the correlation of drag and rolling, for
            setups that are as those it was learned from. A changed ride height, opening or cover, roof load
            or hitch changes the drag: such a setup keeps the prior for drag. Tyre pressure changes the
            rolling: it keeps the prior for rolling. Other wheels or tyres and another drive mode change both.
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
