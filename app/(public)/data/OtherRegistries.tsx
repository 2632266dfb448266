import { DataTable } from '@/app/ui/DataTable';
import { Link } from '@/app/ui/Link';
import { Section } from '@/app/ui/Section';
import { Minute, ZoneNote } from '@/app/ui/When';
import type { OtherSource } from '@/lib/registry/otherRegistries/others';
import { otherHref } from '../registries/otherHref';

/** Whose numbers are shown here beside this registry's own. */
export function OtherRegistries({ others }: { others: readonly OtherSource[] }) {
  if (others.length === 0) return null;
  return (
    <Section
      title="Other registries"
      id="others"
      note="Shown apart, as they published them. They are in no snapshot and no number of this registry."
      wide
    >
      <DataTable
        caption={<ZoneNote />}
        rows={others}
        rowKey={({ world }) => world}
        columns={[
          {
            key: 'name',
            header: 'Registry',
            rowHeader: true,
            cell: ({ world, name }) => (
              <Link className="link break-all" href={otherHref(world)}>
                {name}
              </Link>
            ),
          },
          { key: 'asOf', header: 'As of', cell: ({ asOf }) => <Minute at={asOf.toISOString()} /> },
          { key: 'runs', header: 'Runs', align: 'end', cell: ({ rows }) => rows.runs ?? 0 },
          { key: 'key', header: 'Signed by', cell: ({ keyId }) => <span className="num">{keyId}</span> },
        ]}
      />
    </Section>
  );
}
