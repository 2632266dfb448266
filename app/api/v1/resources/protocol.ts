import { z } from 'zod';
import { type ProtocolPageView, readProtocolPage } from '@/lib/registry/protocol/protocolPage';
import { resource, word } from '../resource';
import { text } from '../shapes';

const answer = z
  .object({
    label: text('Version'),
    status: text('active or retired'),
    summary: text('What it changed'),
    adoptedAt: z.string().nullable(),
    retiredAt: z.string().nullable(),
    rules: z.array(
      z
        .object({
          id: text('Rule'),
          group: text('Group'),
          title: text('Title'),
          limits: text('Limits in words'),
          retrospectiveLimits: text('Where others hold for runs recorded afterwards').nullable(),
          why: text('Why it is a rule'),
        })
        .meta({ id: 'Rule' }),
    ),
    further: z.array(z.object({ path: text('Parameter'), label: text('Name'), value: text('Value') })),
    versions: z.array(z.object({ label: text('Version'), status: text('active or retired') })),
  })
  .meta({ id: 'Protocol' });

const answerOf = (found: ProtocolPageView) => ({
  label: found.label,
  status: found.status,
  summary: found.summary,
  adoptedAt: found.adoptedAt?.toISOString() ?? null,
  retiredAt: found.retiredAt?.toISOString() ?? null,
  rules: found.groups.flatMap(({ rules }) =>
    rules.map(({ retrospectiveLimits = null, ...rule }) => ({ ...rule, retrospectiveLimits })),
  ),
  further: found.further,
  versions: found.versions,
});

export const protocol = resource({
  path: '/protocol',
  id: 'getProtocol',
  summary: 'The protocol in force, and the versions there are',
  pageOf: '/protocol',
  answer,
  list: 'rules',
  read: async (registry) => {
    const found = await readProtocolPage(registry);
    return found && answerOf(found);
  },
});

export const protocolVersion = resource({
  path: '/protocol/{version}',
  id: 'getProtocolVersion',
  summary: 'A published version of the protocol',
  pageOf: '/protocol?version={version}',
  parts: z.object({ version: word('Label of the version', '3.2') }),
  answer,
  list: 'rules',
  read: async (registry, { path }) => {
    const found = await readProtocolPage(registry, path.version);
    return found && answerOf(found);
  },
});
