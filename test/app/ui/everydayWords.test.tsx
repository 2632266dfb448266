import { renderToStaticMarkup } from 'react-dom/server';
import { describe, expect, it } from 'vitest';
import { Disclosure } from '@/app/ui/Disclosure';
import { Section } from '@/app/ui/Section';
import { everydayText, specialistLines } from '@/test/helpers/everydayWords';

describe('what a page says to everybody', () => {
  it('is all but margin notes, disclosures and commands', () => {
    const page = renderToStaticMarkup(
      <Section id="sure" title="How sure" note={<p>The posterior, by its variance.</p>}>
        <p>Two runs differ by less.</p>
        <Disclosure title="How it is made" says="A sentence.">
          <div>
            Degrees of freedom <br /> and <hr /> residuals
          </div>
        </Disclosure>
        <code>npm run normalise</code>
        <p>After it, more.</p>
      </Section>,
    );
    expect(everydayText(page)).toBe('How sure\nTwo runs differ by less.\nAfter it, more.');
    expect(specialistLines(page)).toEqual([]);
  });

  it('finds a specialist’s word in text, headings and what is only heard', () => {
    const page = renderToStaticMarkup(
      <Section id="sure" title="Repeatability">
        <p>A plain line.</p>
        <ul aria-label="Studentised residuals">
          <li>One</li>
        </ul>
        <td>χ² test</td>
      </Section>,
    );
    expect(specialistLines(page)).toEqual(['Repeatability', 'Studentised residuals One', 'χ² test']);
  });
});
