import { z } from 'zod';

interface Part {
  name: string;
  description: string;
}

/** Names that a reader takes in within a line; more are listed elsewhere. */
const MOST_NAMES = 30;

/** Names with what each means. */
export function Parts({ label, parts }: { label: string; parts: readonly Part[] }) {
  return (
    <dl aria-label={label} className="mt-3 text-sm">
      {parts.map(({ name, description }) => (
        <div
          key={name}
          className="border-b border-rule py-2 sm:grid sm:grid-cols-[12rem_minmax(0,1fr)] sm:gap-x-4"
        >
          <dt>
            <code>{name}</code>
          </dt>
          <dd className="min-w-0 break-words">{description}</dd>
        </div>
      ))}
    </dl>
  );
}

interface Described {
  description?: string;
  properties?: Record<string, Described>;
  items?: Described;
  anyOf?: Described[];
  $ref?: string;
}

/** What a schema's answer holds, name by name. */
export function partsOf(schema: z.ZodType): Part[] {
  const whole = z.toJSONSchema(schema, { io: 'output', unrepresentable: 'any' }) as Described & {
    $defs?: Record<string, Described>;
  };
  // A schema with a name of its own is told once, and pointed to.
  const told = (of: Described): Described => {
    const name = of.$ref?.replace('#/$defs/', '');
    return name === undefined ? of : { ...whole.$defs?.[name], ...of };
  };
  return Object.entries(told(whole).properties ?? {}).map(([name, of]) => ({
    name,
    description: wordsOf(of, told),
  }));
}

/** Its own words, else the names of what it holds. */
function wordsOf(of: Described, told: (of: Described) => Described): string {
  const itself = told(of);
  const held = [itself.items ?? itself, ...(itself.anyOf ?? [])]
    .map(told)
    .flatMap(({ properties = {} }) => Object.keys(properties));
  return [itself.description, held.length > MOST_NAMES ? '' : held.join(', ')].filter(Boolean).join(': ');
}
