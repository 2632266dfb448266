import { z } from 'zod';
import type { Said } from '@/lib/units/said';
import { saidSchema, unitOrNone } from '@/lib/units/saidSchema';
import { limitsOfRule, type ProtocolParameters, sectionsFor } from './parameters';
import { POLICIES } from './policies';
import type { FindingNumber } from './rule';
import { RULES } from './rules/allRules';

const value = z.union([z.number(), z.string(), z.boolean()]);
const section = z.record(z.string(), value);

/**
 * What the column `parameters` of a version may hold, whichever program wrote it: sections of named values, and under
 * `retrospective.limits` those that hold instead for runs recorded afterwards. Sections that no rule of this program
 * reads stay where they are.
 */
const storedSchema = z
  .object({
    retrospective: z
      .object({ limits: z.record(z.string(), section).optional() })
      .catchall(value)
      .optional(),
    ...POLICIES,
  })
  .catchall(section);

/** Each rule's own part as a schema: made once, since making one takes longer than reading by it. */
const LIMITS_SCHEMAS = RULES.map((rule) => ({ rule, schema: z.object(rule.schema) }));

export type StoredRead = { ok: true; parameters: ProtocolParameters } | { ok: false; error: z.ZodError };

/**
 * A stored version, read as it was stored: a rule whose limits it does not state is not part of it. Limits that are
 * stated must be of their kind, for ordinary runs and for those recorded afterwards, or nothing is judged by them.
 */
export function safeReadStoredParameters(stored: unknown): StoredRead {
  const read = storedSchema.safeParse(stored);
  if (!read.success) return { ok: false, error: read.error };
  // The rules' own parts are checked here, each by the schema that its rule carries.
  const parameters = read.data as ProtocolParameters;
  for (const isRetrospective of [false, true]) {
    const stated = sectionsFor(parameters, isRetrospective);
    for (const { rule, schema } of LIMITS_SCHEMAS) {
      const limits = limitsOfRule(rule, stated);
      const checked = schema.safeParse(limits ?? {});
      if (limits !== undefined && !checked.success) return { ok: false, error: checked.error };
    }
  }
  return { ok: true, parameters };
}

/** For those who judge by it: throws where the version cannot be read. */
export function readStoredParameters(stored: unknown): ProtocolParameters {
  const read = safeReadStoredParameters(stored);
  if (!read.ok) throw read.error;
  return read.parameters;
}

/**
 * What keeps parameters from being put in force as a new version: rules of this program that they leave out, and names
 * that nothing reads. Empty where nothing does.
 */
export function faultsOfNewVersion(parameters: ProtocolParameters): string[] {
  const own = sectionsFor(parameters, false);
  const left = RULES.filter((rule) => limitsOfRule(rule, own) === undefined);
  const read = new Set(
    [POLICIES, ...RULES.map((rule) => rule.schema)].flatMap((schema) =>
      Object.entries(schema).flatMap(([name, { shape }]) =>
        Object.keys(shape).map((key) => `${name}.${key}`),
      ),
    ),
  );
  const named = [false, true].flatMap((isRetrospective) =>
    Object.entries(sectionsFor(parameters, isRetrospective)).flatMap(([name, values]) =>
      Object.keys(values).map((key) => `${name}.${key}`),
    ),
  );
  return [
    ...left.map((rule) => `The limits of “${rule.title}” are missing.`),
    ...[...new Set(named)].filter((path) => !read.has(path)).map((path) => `Nothing reads ${path}.`),
  ];
}

const findingNumber = z.object({
  name: z.string(),
  value: z.number(),
  unit: unitOrNone,
  limit: z.number().optional(),
});

/** A sentence with its numbers as data; undefined where none was kept, so that the sentence as judged stands. Never throws. */
export function readSaid(stored: unknown): Said | undefined {
  return saidSchema.safeParse(stored).data;
}

/** The numbers beside a finding, as far as they can be read: the finding's own sentence stands without them. Never throws. */
export function readFindingNumbers(stored: unknown): FindingNumber[] {
  if (!Array.isArray(stored)) return [];
  return stored.flatMap((one) => findingNumber.safeParse(one).data ?? []);
}
