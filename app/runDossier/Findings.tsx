import { Link } from '@/app/ui/Link';
import { Outcome } from '@/app/ui/Outcome';
import type { ShownFinding, ShownFindings } from '@/lib/protocol/runFindings';
import type { Display } from '@/lib/units/display';
import { THIN_SPACE } from '@/lib/units/format';
import { inReadersUnit, placeSaid, sayFound } from '@/lib/units/said';
import { showNumber, showPlain } from '@/lib/units/show';
import { unitSymbol } from '@/lib/units/unit';

/** What the rules found: fails, then cautions; what was not checked and what passed folded below. */
export function Findings({ findings, display }: { findings: ShownFindings; display: Display }) {
  const { counts, protocolLabel } = findings;
  const list = { display, protocolHref: `/protocol/${encodeURIComponent(protocolLabel)}` };
  return (
    <div>
      <p className="num mb-4 text-sm text-ink-soft">
        {counts.fail} fail · {counts.caution} caution · {counts.notChecked} not checked · {counts.pass} pass,
        under protocol {protocolLabel}
      </p>
      {findings.notable.length === 0 ? (
        <p className="text-sm">No rule failed and none asked for caution.</p>
      ) : (
        <FindingList label="Fails and cautions" findings={findings.notable} {...list} />
      )}
      <Folded title="Not checked" findings={findings.notChecked} {...list} />
      <Folded title="Passed" findings={findings.passed} {...list} />
    </div>
  );
}

interface ListedFindings {
  findings: readonly ShownFinding[];
  /** The version that the run is pinned to. */
  protocolHref: string;
  display: Display;
}

function Folded({ title, findings, ...list }: ListedFindings & { title: string }) {
  if (findings.length === 0) return null;
  return (
    <details className="mt-4">
      <summary className="disclosure">
        {title}: {findings.length} {findings.length === 1 ? 'rule' : 'rules'}
      </summary>
      <FindingList label={title} findings={findings} {...list} />
    </details>
  );
}

function FindingList({ label, findings, protocolHref, display }: ListedFindings & { label: string }) {
  return (
    <ul aria-label={label}>
      {findings.map((finding) => (
        <li
          key={finding.ruleId}
          id={`rule-${finding.ruleId}`}
          className="grid gap-x-6 border-b border-rule py-2.5 text-sm sm:grid-cols-[8rem_minmax(0,1fr)]"
        >
          <Outcome outcome={finding.outcome} />
          <div>
            <p className="font-semibold">
              {finding.title}{' '}
              <span className="font-normal text-ink-soft">
                · {finding.group}{' '}
                {finding.isKnown ? (
                  <Link className="link" href={`${protocolHref}#${finding.ruleId}`}>
                    rule
                    <span className="sr-only"> {finding.title}</span>
                  </Link>
                ) : (
                  'rule of another release'
                )}
              </span>
            </p>
            <p className="max-w-[38rem]">{sayFound(finding, display)}</p>
            <FindingNumbers finding={finding} display={display} />
          </div>
        </li>
      ))}
    </ul>
  );
}

/** The numbers that decided, each beside its limit. */
export function FindingNumbers({ finding, display }: { finding: ShownFinding; display: Display }) {
  if (finding.numbers.length === 0) return null;
  const text = (judged: number, judgedIn: ShownFinding['numbers'][number]['unit']) => {
    const { value, unit } = inReadersUnit(judged, judgedIn, display);
    const place = placeSaid(finding.said, judged, judgedIn, display);
    const number = place === undefined ? showPlain(value, display) : showNumber(value, place, display);
    return unit === '' ? number : `${number}${THIN_SPACE}${unitSymbol(unit)}`;
  };
  return (
    <p className="num mt-0.5 text-ink-soft">
      {finding.numbers
        .map(
          ({ name, value, unit, limit }) =>
            `${name}: ${text(value, unit)}${limit === undefined ? '' : ` (limit ${text(limit, unit)})`}`,
        )
        .join(' · ')}
    </p>
  );
}
