import { DataTable } from '@/app/ui/DataTable';
import { Link } from '@/app/ui/Link';
import { Section } from '@/app/ui/Section';
import { Day } from '@/app/ui/When';
import type { MethodPageView } from '@/lib/registry/method/methodPage';
import { worldTitle } from '@/lib/run/world';
import type { Display } from '@/lib/units/display';
import { showNumber } from '@/lib/units/show';

type Version = MethodPageView['versions'][number];

/** Which version came into effect when, by whom and why, and what it uses. */
export function Versions({ view, display }: { view: MethodPageView; display: Display }) {
  return (
    <Section
      id="versions"
      title="Method versions"
      note={`When the way of working a number out changes, it gets a new version, and every result names its own. Today’s is ${view.engine}; what was adopted besides is added to the label, for each world by itself.`}
      wide
    >
      <DataTable
        caption="Adopted versions of the method, the newest first"
        captionHidden
        rows={view.versions}
        rowKey={(version) => version.id}
        empty={`Nothing was adopted beside the engine: version ${view.engine} uses the priors for all models.`}
        columns={[
          { key: 'label', header: 'Version', rowHeader: true, cell: (version) => version.label },
          { key: 'world', header: 'World', cell: (version) => worldTitle(version.world) },
          { key: 'on', header: 'Adopted on', cell: (version) => <Day of={version.on} /> },
          { key: 'by', header: 'By', cell: (version) => version.by },
          { key: 'state', header: 'State', cell: (version) => (version.isCurrent ? 'in effect' : 'earlier') },
          { key: 'summary', header: 'Why', wide: true, cell: (version) => version.summary },
          {
            key: 'models',
            header: 'Learned road loads of',
            wide: true,
            cell: (version) => <Models display={display} models={version.models} />,
          },
        ]}
        footnote="Gain: how much better a run was predicted from the model’s other cars than from the priors, natural logarithm a run, each car left out in turn; single runs were left out under the first version of the method."
      />
    </Section>
  );
}

function Models({ models, display }: { models: Version['models']; display: Display }) {
  return (
    <ul>
      {models.map((model) => (
        <li key={model.slug}>
          <Link className="link" href={`/models/${model.slug}#road-load`}>
            {model.name}
          </Link>{' '}
          <span className="text-ink-soft">
            ({model.runs} runs, gain {showNumber(model.gainPerRun, 2, display, { signed: true })})
          </span>
        </li>
      ))}
    </ul>
  );
}
