import type { Queryable } from './database';

/** Addresses and names that things had, and where they lead now. */

export type AddressedKind = 'model' | 'loop';

const INTO = { mergedInto: { select: { slug: true } } } as const;

/** The name that a thing had under an address it gives up. */
export async function keepPastAddress(
  tx: Queryable,
  past: { kind: AddressedKind; slug: string; thingId: string; name: string; until: Date },
): Promise<void> {
  await tx.pastAddress.upsert({
    where: { kind_slug: { kind: past.kind, slug: past.slug } },
    create: past,
    update: past,
  });
}

/** It is its address again. */
export async function dropPastAddress(tx: Queryable, kind: AddressedKind, slug: string): Promise<void> {
  await tx.pastAddress.deleteMany({ where: { kind, slug } });
}

/** Whether it led to another thing. */
export async function wasAddressOfAnother(
  db: Queryable,
  kind: AddressedKind,
  slug: string,
  exceptId?: string,
): Promise<boolean> {
  const past = await db.pastAddress.findUnique({
    where: { kind_slug: { kind, slug } },
    select: { thingId: true },
  });
  return past !== null && past.thingId !== exceptId;
}

/** Things that once had a text in their name, at most so many. */
export async function onceCalled(
  db: Queryable,
  kind: AddressedKind,
  text: string | undefined,
  take: number,
): Promise<string[]> {
  if (!text) return [];
  const rows = await db.pastAddress.findMany({
    where: { kind, name: { contains: text, mode: 'insensitive' } },
    orderBy: { slug: 'asc' },
    take,
    select: { thingId: true },
  });
  return [...new Set(rows.map(({ thingId }) => thingId))];
}

/** Where what is or was at an address is now; null where nothing ever was, or where it still is. */
export async function movedFrom(
  db: Queryable,
  kind: AddressedKind | 'setup',
  slug: string,
): Promise<string | null> {
  if (kind === 'setup') {
    const setup = await db.setup.findUnique({ where: { slug }, select: INTO });
    return setup?.mergedInto?.slug ?? null;
  }
  const past = await db.pastAddress.findUnique({
    where: { kind_slug: { kind, slug } },
    select: { thingId: true },
  });
  if (kind === 'model') {
    const model = await db.vehicleModel.findFirst({
      where: past === null ? { slug, mergedIntoId: { not: null } } : { id: past.thingId },
      select: { slug: true, ...INTO },
    });
    return model?.mergedInto?.slug ?? model?.slug ?? null;
  }
  const loop = await db.loop.findFirst({
    where: past === null ? { slug, mergedIntoId: { not: null } } : { id: past.thingId },
    select: { slug: true, ...INTO },
  });
  return loop?.mergedInto?.slug ?? loop?.slug ?? null;
}
