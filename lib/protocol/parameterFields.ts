import { z } from 'zod';
import type { UnitCode } from '@/lib/units/unit';
import type { ParameterMeta } from './parameterKinds';
import { type ProtocolParameters, sectionsFor } from './parameters';
import { POLICIES } from './policies';
import type { LimitsSchema, ParameterValue } from './rule';
import { RULES } from './rules/allRules';
import { scaleOf, writeLimit } from './wording';

/** One leaf of a version's parameters, as a page lists it. */
export interface ParameterField {
  section: string;
  key: string;
  /** `section.key` */
  path: string;
  label: string;
  /** The unit to show; the stored value is in the canonical unit of its dimension. */
  unit: UnitCode | '';
  kind: 'number' | 'choice' | 'yesNo';
  /** For a choice. */
  options: readonly string[];
}

/** The leaves that a rule or the policies read. */
export function fieldsOfSchema(schema: LimitsSchema): ParameterField[] {
  return Object.entries(schema).flatMap(([section, { shape }]) =>
    Object.entries(shape).map(([key, leaf]) => fieldOf(section, key, leaf)),
  );
}

/** Every parameter once, in the order of the rules, the policies last. */
export const PARAMETER_FIELDS: readonly ParameterField[] = [
  ...new Map(
    [...RULES.map((rule) => rule.schema), POLICIES]
      .flatMap(fieldsOfSchema)
      .map((field) => [field.path, field] as const),
  ).values(),
];

function fieldOf(section: string, key: string, leaf: z.core.$ZodType): ParameterField {
  const meta = z.globalRegistry.get(leaf) as Partial<ParameterMeta> | undefined;
  if (meta?.label === undefined || meta.unit === undefined) {
    throw new TypeError(`parameter ${section}.${key} has no label or unit`);
  }
  const { label, unit } = meta;
  const options = leaf instanceof z.ZodEnum ? leaf.options.map(String) : [];
  const kind = leaf instanceof z.ZodEnum ? 'choice' : leaf instanceof z.ZodBoolean ? 'yesNo' : 'number';
  return { section, key, path: `${section}.${key}`, label, unit, kind, options };
}

/** Undefined where the version does not state it. */
export function parameterAt(
  parameters: ProtocolParameters,
  { section, key }: ParameterField,
  isRetrospective = false,
): ParameterValue | undefined {
  return sectionsFor(parameters, isRetrospective)[section]?.[key];
}

/** A parameter in its unit, or its choice in words. */
export function writeParameter(value: ParameterValue, field: ParameterField): string {
  if (typeof value === 'number') return writeLimit(value, scaleOf(field.unit));
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  return value === 'notChecked' ? 'not checked' : value;
}
