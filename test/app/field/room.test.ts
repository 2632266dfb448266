import { describe, expect, it } from 'vitest';
import { littleRoomMb } from '@/app/(field)/field/room';

describe('room on the phone', () => {
  it.each([
    [{ usage: 0, quota: 60_000_000 }, undefined],
    [{ usage: 1, quota: 60_000_000 }, 59],
    [{ usage: 940_500_000, quota: 1_000_000_000 }, 59],
    [{ usage: 12, quota: 10 }, 0],
  ])('%o leaves %s MB', (room, left) => {
    expect(littleRoomMb(room)).toBe(left);
  });

  it('is not spoken of where the browser tells nothing', () => {
    expect(littleRoomMb({})).toBeUndefined();
    expect(littleRoomMb({ usage: 5 })).toBeUndefined();
    expect(littleRoomMb({ usage: 5, quota: 0 })).toBeUndefined();
  });
});
