/**
 * What a column of a snapshot is, said once: whoever writes it, the schema that goes with it, the page that explains it
 * and whoever verifies it all read this.
 */

/** Types of Table Schema (Data Package 1.0). Arrays and objects are JSON by RFC 8785 in one cell. */
export type CellType = 'integer' | 'number' | 'string' | 'boolean' | 'date' | 'datetime' | 'array' | 'object';

/** Where a column's values come from, in words. */
export const SOURCES = {
  tester: 'as the tester read or stated it',
  registry: 'given by the registry',
  inputs: 'kept with the run when it was sent in',
  method: 'computed by the method of the version named',
  fit: 'computed by the fit of the class',
  protocol: 'judged under the version of the protocol named',
  reviewer: 'decided by a reviewer',
  steward: 'decided by a steward',
  owner: 'stated with the model, loop or car',
  recording: 'reduced from the run’s recording, whose places are not kept',
  plan: 'fixed by the study’s tester before driving',
} as const;
export type Source = keyof typeof SOURCES;

export interface Column {
  name: string;
  type: CellType;
  /** Of the numbers in it, where they have one; 1 for shares and ratios. */
  unit?: string;
  /** One sentence. */
  says: string;
  source: Source;
  /** Never empty. */
  isRequired: boolean;
}

export interface Reference {
  columns: readonly string[];
  table: string;
  to: readonly string[];
}

export interface Table {
  name: string;
  title: string;
  /** One sentence. */
  says: string;
  columns: readonly Column[];
  /** Rows are in the order of these, numbers by size, texts by their code points. */
  key: readonly string[];
  refersTo: readonly Reference[];
}

/** A row by its columns; null where there is nothing. */
export type Row = Readonly<Record<string, unknown>>;

type Numeric = 'integer' | 'number';

/** The columns of one source, written as tersely as a table of them has to be read. */
export function from(source: Source) {
  const column = (
    type: CellType,
    isRequired: boolean,
    name: string,
    says: string,
    unit?: string,
  ): Column => ({
    name,
    type,
    says,
    source,
    isRequired,
    ...(unit === undefined ? {} : { unit }),
  });
  const plain = (type: Exclude<CellType, Numeric>) => (name: string, says: string) =>
    column(type, true, name, says);
  const perhapsPlain = (type: Exclude<CellType, Numeric>) => (name: string, says: string) =>
    column(type, false, name, says);
  return {
    integer: (name: string, says: string, unit?: string) => column('integer', true, name, says, unit),
    number: (name: string, unit: string, says: string) => column('number', true, name, says, unit),
    text: plain('string'),
    truth: plain('boolean'),
    day: plain('date'),
    time: plain('datetime'),
    list: (name: string, says: string, unit?: string) => column('array', true, name, says, unit),
    object: plain('object'),
    perhaps: {
      integer: (name: string, says: string, unit?: string) => column('integer', false, name, says, unit),
      number: (name: string, unit: string, says: string) => column('number', false, name, says, unit),
      text: perhapsPlain('string'),
      time: perhapsPlain('datetime'),
      list: perhapsPlain('array'),
      object: perhapsPlain('object'),
    },
  };
}

export function refersTo(
  table: string,
  columns: readonly string[],
  to: readonly string[] = columns,
): Reference {
  return { columns, table, to };
}
