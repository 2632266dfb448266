import { differencesBetween, type VersionDifferences } from '@/lib/protocol/compareVersions';
import { fieldsOfSchema, parameterAt, writeParameter } from '@/lib/protocol/parameterFields';
import type { ProtocolVersion } from '@/lib/protocol/parameters';
import { POLICIES } from '@/lib/protocol/policies';
import { describeRules, type RuleGroupDescription } from '@/lib/protocol/ruleCatalogue';
import { safeReadStoredParameters } from '@/lib/protocol/stored';
import { dateText } from '@/lib/run/localDate';
import { protocolVersions } from '@/lib/store/protocol';
import { announcedDraft } from '@/lib/store/protocolDrafts';
import type { Registry } from '../registry';

export interface VersionListed {
  label: string;
  status: string;
  summary: string;
  adoptedAt: Date | null;
  retiredAt: Date | null;
  /** Against the version before it; none for the first, and where one of the two cannot be read. */
  since: { label: string; differences: VersionDifferences } | undefined;
}

export interface ProtocolPageView extends VersionListed {
  /** Empty for a version that this release cannot read. */
  groups: RuleGroupDescription[];
  /** Parameters that no rule reads: what a ranking asks, and when a decision needs a second look. */
  further: { path: string; label: string; value: string }[];
  /** Published versions, the newest first. */
  versions: VersionListed[];
  /** What a steward announced to come into force, beside the page of the version in force. */
  announced: AnnouncedVersion | undefined;
}

export interface AnnouncedVersion {
  label: string;
  summary: string;
  /** The day by UTC from whose beginning on it judges. */
  from: string;
  differences: VersionDifferences | undefined;
}

/** A published protocol version in words; without a label the one in force. Drafts are the stewards' affair. */
export async function readProtocolPage(
  registry: Registry,
  label?: string,
): Promise<ProtocolPageView | undefined> {
  const published = (await protocolVersions(registry.db)).filter((version) => version.status !== 'draft');
  const read = published.map(asStored);
  const versions = published.map((version, index) => listed(version, read[index], read[index + 1]));
  const index = versions.findIndex((version) =>
    label === undefined ? version.status === 'active' : version.label === label,
  );
  const version = versions[index];
  if (version === undefined) return undefined;
  const parameters = read[index]?.parameters;
  return {
    ...version,
    groups: parameters === undefined ? [] : describeRules(parameters),
    further: fieldsOfSchema(POLICIES).flatMap((field) => {
      const value = parameters && parameterAt(parameters, field);
      const { path, label: name } = field;
      return value === undefined ? [] : [{ path, label: name, value: writeParameter(value, field) }];
    }),
    versions,
    announced: version.status === 'active' ? await announcedAfter(registry, read[index]) : undefined,
  };
}

async function announcedAfter(
  registry: Registry,
  inForce: ProtocolVersion | undefined,
): Promise<AnnouncedVersion | undefined> {
  const draft = await announcedDraft(registry.db);
  if (draft === null) return undefined;
  const next = asStored(draft);
  return {
    label: draft.label,
    summary: draft.summary,
    from: dateText(draft.activateAt),
    differences: inForce && next && differencesBetween(inForce, next),
  };
}

type StoredVersion = Awaited<ReturnType<typeof protocolVersions>>[number];

function listed(
  { label, status, summary, adoptedAt, retiredAt }: StoredVersion,
  version: ProtocolVersion | undefined,
  before: ProtocolVersion | undefined,
): VersionListed {
  return {
    label,
    status,
    summary,
    adoptedAt,
    retiredAt,
    since: version && before && { label: before.label, differences: differencesBetween(before, version) },
  };
}

function asStored({
  label,
  parameters,
}: Pick<StoredVersion, 'label' | 'parameters'>): ProtocolVersion | undefined {
  const read = safeReadStoredParameters(parameters);
  return read.ok ? { label, parameters: read.parameters } : undefined;
}
