import { describe, expect, it } from 'vitest';
import { withoutDisplay } from '@/app/(public)/display/withoutDisplay';

describe('the way back from choosing units', () => {
  it('leaves the unit of the address behind and keeps the rest', () => {
    expect(withoutDisplay('/rankings?class=kmh-110&unit=Wh%2Fkm&mark=comma#ranked')).toBe(
      '/rankings?class=kmh-110#ranked',
    );
    expect(withoutDisplay('/runs?unit=mi%2FkWh')).toBe('/runs');
    expect(withoutDisplay('/compare?setup=a&setup=b')).toBe('/compare?setup=a&setup=b');
  });
});
