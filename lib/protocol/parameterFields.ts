import { z } from 'zod';
import type { UnitCode } from '@/lib/units/unit';
import type { ParameterMeta } from './parameterKinds';
import { type ProtocolParameters, protocolParametersSchema } from './parameters';
import { scaleOf, writeLimit } from './wording';

export type ParameterValue = number | string | boolean;

/** One leaf of a version's parameters, as a page lists or edits it. */
export interface ParameterField {
  section: keyof ProtocolParameters;
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

const SECTIONS = Object.keys(protocolParametersSchema.shape) as (keyof ProtocolParameters)[];

/** Every parameter, in the order of the schema. */
export const PARAMETER_FIELDS: readonly ParameterField[] = SECTIONS.flatMap((section) => {
  const leaves: Record<string, z.ZodType> = protocolParametersSchema.shape[section].shape;
  return Object.entries(leaves).map(([key, leaf]) => fieldOf(section, key, leaf));
});

function fieldOf(section: keyof ProtocolParameters, key: string, leaf: z.ZodType): ParameterField {
  const meta = leaf.meta() as Partial<ParameterMeta> | undefined;
  if (meta?.label === undefined || meta.unit === undefined) {
    throw new TypeError(`parameter ${section}.${key} has no label or unit`);
  }
  const { label, unit } = meta;
  const options = leaf instanceof z.ZodEnum ? leaf.options.map(String) : [];
  const kind = leaf instanceof z.ZodEnum ? 'choice' : leaf instanceof z.ZodBoolean ? 'yesNo' : 'number';
  return { section, key, path: `${section}.${key}`, label, unit, kind, options };
}

export function parameterAt(parameters: ProtocolParameters, field: ParameterField): ParameterValue {
  const section: Readonly<Record<string, ParameterValue>> = parameters[field.section];
  const value = section[field.key];
  if (value === undefined) throw new TypeError(`parameters lack ${field.path}`);
  return value;
}

/** A parameter in its unit, or its choice in words. */
export function writeParameter(value: ParameterValue, field: ParameterField): string {
  if (typeof value === 'number') return writeLimit(value, scaleOf(field.unit));
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  return value === 'notChecked' ? 'not checked' : value;
}
