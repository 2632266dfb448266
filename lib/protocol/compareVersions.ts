import { PARAMETER_FIELDS, parameterAt, writeParameter } from './parameterFields';
import type { ProtocolVersion } from './parameters';

export interface ParameterChange {
  /** `section.key` */
  path: string;
  label: string;
  before: string;
  after: string;
  sentence: string;
}

/** What changes from one protocol version to another, in words, in the order of the parameters. */
export function differencesBetween(from: ProtocolVersion, to: ProtocolVersion): ParameterChange[] {
  return PARAMETER_FIELDS.flatMap((field) => {
    const old = parameterAt(from.parameters, field);
    const next = parameterAt(to.parameters, field);
    if (old === next) return [];
    const before = writeParameter(old, field);
    const after = writeParameter(next, field);
    const verb =
      typeof old === 'number' && typeof next === 'number' ? (next > old ? 'raised' : 'lowered') : 'changed';
    return [
      {
        path: field.path,
        label: field.label,
        before,
        after,
        sentence: `${field.label}: ${verb} from ${before} in ${from.label} to ${after} in ${to.label}.`,
      },
    ];
  });
}
