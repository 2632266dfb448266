import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type StudiedSetup, separateFactors } from '@/lib/study/oneFactor';

const FACTORS = ['driveMode', 'rideHeight', 'tyrePressure'] as const;

function setup(id: string, ...levels: string[]): StudiedSetup {
  return {
    id,
    title: id,
    levels: FACTORS.map((factor, i) => ({
      factor,
      factorLabel: factor,
      key: levels[i] ?? '0',
      label: levels[i] ?? '0',
      isAsDelivered: (levels[i] ?? '0') === '0',
    })),
  };
}

const base = setup('base');

describe('what a difference could be put down to', () => {
  it('takes levels of one factor, and one factor at a time', () => {
    expect(separateFactors(base, [setup('low', '0', '1'), setup('high', '0', '2')])).toMatchObject({
      ok: true,
      kind: 'one factor',
      contrasts: [
        { setupId: 'low', factor: 'rideHeight' },
        { setupId: 'high', factor: 'rideHeight' },
      ],
    });
    expect(separateFactors(base, [setup('low', '0', '1'), setup('eco', '1')])).toMatchObject({
      ok: true,
      kind: 'one at a time',
    });
  });

  it('takes two factors only as a full factorial, whose questions are the single steps', () => {
    const both = setup('both', '1', '1');
    expect(separateFactors(base, [setup('eco', '1'), setup('low', '0', '1'), both])).toEqual({
      ok: true,
      kind: 'full factorial',
      contrasts: [
        { setupId: 'eco', factor: 'driveMode' },
        { setupId: 'low', factor: 'rideHeight' },
      ],
    });
    expect(separateFactors(base, [setup('eco', '1'), both])).toMatchObject({
      ok: false,
      what: '“both” moves drive mode and ride height at once.',
    });
    expect(separateFactors(base, [both])).toMatchObject({ ok: false });
  });

  it('takes neither nothing nor the baseline again', () => {
    expect(separateFactors(base, [])).toMatchObject({ ok: false });
    expect(separateFactors(base, [setup('again')])).toMatchObject({ ok: false });
  });

  it('names only contrasts of one factor, whatever is chosen', () => {
    const level = fc.constantFrom('0', '1');
    fc.assert(
      fc.property(fc.array(fc.tuple(level, level, level), { minLength: 1, maxLength: 7 }), (chosen) => {
        const others = chosen.map((levels, i) => setup(`s${i}`, ...levels));
        const found = separateFactors(base, others);
        if (!found.ok) return;
        for (const { setupId, factor } of found.contrasts) {
          const levels = others.find(({ id }) => id === setupId)?.levels ?? [];
          expect(levels.filter(({ key }) => key !== '0').map((one) => one.factor)).toEqual([factor]);
        }
        const moved = others.filter(({ levels }) => levels.filter(({ key }) => key !== '0').length > 1);
        if (moved.length > 0) expect(found.kind).toBe('full factorial');
      }),
      { seed: 5 },
    );
  });
});
