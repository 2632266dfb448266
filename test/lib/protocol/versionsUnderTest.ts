import { readFileSync } from 'node:fs';
import type { ProtocolVersion } from '@/lib/protocol/parameters';
import { readStoredParameters } from '@/lib/protocol/stored';
import { NEWEST_VERSION } from '@/lib/protocol/versions/newestVersion';

/** The row of version 1.0 as release 0.1.0 of this program wrote it, in every registry of that time. */
export const STORED_VERSION_ONE: { label: string; summary: string; parameters: Record<string, unknown> } =
  JSON.parse(readFileSync('test/reference/protocol/version-1.0.json', 'utf8'));

export const VERSION_ONE: ProtocolVersion = {
  label: STORED_VERSION_ONE.label,
  parameters: readStoredParameters(STORED_VERSION_ONE.parameters),
};

export const NEWEST: ProtocolVersion = {
  label: NEWEST_VERSION.label,
  parameters: readStoredParameters(JSON.parse(JSON.stringify(NEWEST_VERSION.parameters))),
};

/** Every rule is tested by what a registry holds: the newest version, and the first as it was stored. */
export const VERSIONS_UNDER_TEST = [
  { name: 'the newest version', version: NEWEST },
  { name: 'version 1.0 as it was stored', version: VERSION_ONE },
] as const;

/** What registries under version 1.0 are not judged by, in the order of the rules. */
export const RULES_AFTER_ONE = [
  'gusts',
  'wind-direction',
  'same-picture',
  'nearly-same-picture',
  'photo-time',
  'copied-readings',
  'nearly-copied-readings',
  'one-drive-at-a-time',
  'last-digits',
  'independent-trace',
  'spread-of-runs',
  'spread-of-setup',
  'spread-of-cluster',
];
