import { describe, expect, it } from 'vitest';
import { shownTextsOf } from '@/app/ui/forms/formState';

describe('what was typed, after an error', () => {
  it('is all there but the passwords', () => {
    const data = new FormData();
    data.set('displayName', 'Ilse Varga');
    data.set('stewardCode', 'KMPR-2345-XYZT');
    data.set('password', 'quiet lantern over seven bridges');
    data.set('newPassword', 'another one');
    data.set('$ACTION_ID', 'the framework’s own');
    expect(shownTextsOf(data)).toEqual({ displayName: 'Ilse Varga', stewardCode: 'KMPR-2345-XYZT' });
  });
});
