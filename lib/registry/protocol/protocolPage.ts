import { differencesBetween, type ParameterChange } from '@/lib/protocol/compareVersions';
import { PARAMETER_FIELDS, parameterAt, writeParameter } from '@/lib/protocol/parameterFields';
import { type ProtocolVersion, protocolParametersSchema } from '@/lib/protocol/parameters';
import { describeRules, type RuleGroupDescription } from '@/lib/protocol/ruleCatalogue';
import { protocolVersions } from '@/lib/store/protocol';
import type { Registry } from '../registry';

export interface VersionListed {
  label: string;
  status: string;
  summary: string;
  adoptedAt: Date | null;
  retiredAt: Date | null;
}

export interface ProtocolPageView extends VersionListed {
  groups: RuleGroupDescription[];
  /** Parameters that no rule reads: what a ranking asks, and when a decision needs a second look. */
  further: { path: string; label: string; value: string }[];
  /** Published versions, the newest first. */
  versions: VersionListed[];
  previousLabel: string | undefined;
  /** Against the version before it. */
  changes: ParameterChange[];
}

/** A published protocol version in words; without a label the one in force. Drafts are the stewards' affair. */
export async function readProtocolPage(
  registry: Registry,
  label?: string,
): Promise<ProtocolPageView | undefined> {
  const published = (await protocolVersions(registry.db)).filter((version) => version.status !== 'draft');
  const index =
    label === undefined
      ? published.findIndex((version) => version.status === 'active')
      : published.findIndex((version) => version.label === label);
  const version = published[index];
  if (version === undefined) return undefined;
  const previous = published[index + 1];
  const parsed = parsedVersion(version);
  return {
    ...listed(version),
    groups: describeRules(parsed.parameters),
    further: PARAMETER_FIELDS.filter(({ section }) => section === 'ranking' || section === 'screening').map(
      (field) => ({
        path: field.path,
        label: field.label,
        value: writeParameter(parameterAt(parsed.parameters, field), field),
      }),
    ),
    versions: published.map(listed),
    previousLabel: previous?.label,
    changes: previous === undefined ? [] : differencesBetween(parsedVersion(previous), parsed),
  };
}

type StoredVersion = Awaited<ReturnType<typeof protocolVersions>>[number];

function listed({ label, status, summary, adoptedAt, retiredAt }: StoredVersion): VersionListed {
  return { label, status, summary, adoptedAt, retiredAt };
}

function parsedVersion(version: StoredVersion): ProtocolVersion {
  return { label: version.label, parameters: protocolParametersSchema.parse(version.parameters) };
}
