import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { commitmentsTo } from '@/lib/trail/entry';
import { faultInSeal, type KeptEntry } from '@/lib/trail/fault';
import { keptEntries, SEALED_BEFORE, sealOver } from './trails';

const was = keptEntries(12);
const seal = sealOver(was);

async function* each(rows: readonly KeptEntry[]): AsyncGenerator<KeptEntry> {
  yield* rows;
}
const faultIn = (rows: readonly KeptEntry[], of = seal) => faultInSeal(of, each(rows), SEALED_BEFORE);
const changed = (index: number, change: Partial<KeptEntry>) =>
  was.map((row, k) => (k === index ? { ...row, ...change } : row));
const at = (index: number): KeptEntry => {
  const row = was[index];
  if (row === undefined) throw new Error('no such entry');
  return row;
};

describe('what was sealed', () => {
  it('is right as it was', async () => {
    expect(await faultIn(was)).toBeUndefined();
  });

  it('names what was altered, in any field', async () => {
    for (const change of [
      { action: 'run.retract' },
      { actorId: null },
      { subjectKind: 'car' },
      { subjectId: 'x' },
      { details: { revision: 99 } },
      { at: new Date(at(4).at.getTime() + 1) },
      { writtenAt: new Date(at(4).at.getTime() + 4) },
      { personalOf: 'x' },
      { commitments: {} },
    ])
      expect(await faultIn(changed(4, change)), JSON.stringify(change)).toMatchObject({
        kind: 'altered',
        entryId: 108n,
      });
  });

  it('names what was removed, at the beginning, within and at the end', async () => {
    for (const index of [0, 5, 11])
      expect(await faultIn(was.filter((_, k) => k !== index))).toMatchObject({
        kind: 'removed',
        entryId: at(index).id,
      });
  });

  it('names what was put in, in a gap, before and after', async () => {
    const odd = { ...at(0), details: { revision: 77 } };
    expect(await faultIn([{ ...odd, id: -3n }, ...was])).toMatchObject({ kind: 'inserted', entryId: -3n });
    expect(await faultIn([...was.slice(0, 3), { ...odd, id: 105n }, ...was.slice(3)])).toMatchObject({
      kind: 'inserted',
      entryId: 105n,
    });
    expect(await faultIn([...was, { ...odd, id: 400n }])).toMatchObject({ kind: 'inserted', entryId: 400n });
  });

  it('names what was reordered: two that changed places, one that was moved', async () => {
    const swapped = was.map((row, k) =>
      k === 2 ? { ...at(7), id: row.id } : k === 7 ? { ...at(2), id: row.id } : row,
    );
    expect(await faultIn(swapped)).toMatchObject({ kind: 'reordered', entryId: 104n });
    const moved = [...was.filter((_, k) => k !== 6), { ...at(6), id: 999n }];
    expect(await faultIn(moved)).toMatchObject({ kind: 'reordered', entryId: 112n });
  });

  it('names what was backdated, whoever rewrote its mark as well', async () => {
    const old = new Date('2026-03-01T00:00:00Z');
    for (const change of [{ at: old }, { writtenAt: old }, { at: old, writtenAt: old }]) {
      expect(await faultIn(changed(9, change))).toMatchObject({ kind: 'backdated', entryId: 118n });
      const rows = changed(9, change);
      expect(await faultIn(rows, sealOver(rows))).toMatchObject({ kind: 'backdated', entryId: 118n });
    }
    const untimed = changed(9, { writtenAt: null });
    expect(await faultIn(untimed, sealOver(untimed))).toMatchObject({ kind: 'backdated' });
    // The invented world tells of earlier days; the first seal takes the log as it finds it.
    const demo = changed(9, { at: old, isOfDemo: true });
    expect(await faultIn(demo, sealOver(demo))).toBeUndefined();
    expect(await faultInSeal(sealOver(untimed, 0), each(untimed), undefined)).toBeUndefined();
  });

  it('lets personal details go with the salt of an erased account, and not otherwise', async () => {
    const salt = new Uint8Array(32).fill(7);
    const personal = { displayName: 'Mira Holm' };
    const signed = { personal, salt, personalOf: 'm', commitments: commitmentsTo(personal, salt) };
    const rows = changed(3, signed);
    const of = sealOver(rows);
    const later = (change: Partial<KeptEntry>) => faultIn(changed(3, { ...signed, ...change }), of);
    expect(await later({})).toBeUndefined();
    expect(await later({ personal: null, salt: null, isErased: true })).toBeUndefined();
    for (const change of [
      { personal: { displayName: 'Mara Holm' } },
      { personal: { displayName: 'Mira Holm', more: 1 } },
      { personal: null },
      { personal: null, salt: null },
      { salt: null, isErased: true },
      { salt: new Uint8Array(32) },
    ])
      expect(await later(change), JSON.stringify(change)).toMatchObject({ kind: 'altered', entryId: 106n });
  });

  it('is found wrong whenever it is not what it was', async () => {
    const step = fc.record({
      from: fc.nat(11),
      to: fc.nat(11),
      what: fc.constantFrom('drop', 'swap', 'copy', 'alter'),
    });
    await fc.assert(
      fc.asyncProperty(fc.array(step, { maxLength: 4 }), async (steps) => {
        let rows = [...was];
        for (const { from, to, what } of steps) {
          const [a, b] = [rows[from % rows.length], rows[to % rows.length]];
          if (a === undefined || b === undefined) continue;
          if (what === 'drop') rows = rows.filter((row) => row !== a);
          if (what === 'swap')
            rows = rows.map((row) => (row === a ? { ...b, id: a.id } : row === b ? { ...a, id: b.id } : row));
          if (what === 'copy') rows = [...rows, { ...a, id: a.id + 1n }];
          if (what === 'alter') rows = rows.map((row) => (row === a ? { ...a, details: b.details } : row));
        }
        rows.sort((a, b) => Number(a.id - b.id));
        const same =
          rows.length === was.length &&
          rows.every(
            (row, k) =>
              row.id === at(k).id &&
              row.at === at(k).at &&
              JSON.stringify(row.details) === JSON.stringify(at(k).details),
          );
        expect((await faultIn(rows)) === undefined).toBe(same);
      }),
    );
  });
});
