import { z } from 'zod';
import { hasRareScript, isOfOneWriting } from './scripts';
import { skeletonOf } from './skeleton';

/** What is wrong with a name: what, why and what to do, as forms show it. */
type Fault = readonly [what: string, why: string, fix: string];

/** Controls, formats (direction, joiners, tags), halves of pairs, private and unassigned code points, breaks of lines. */
const NOT_SEEN = /[\p{Cc}\p{Cf}\p{Cs}\p{Co}\p{Cn}\p{Zl}\p{Zp}\p{Default_Ignorable_Code_Point}]/u;
/** UTS #39, 5.4: more than four marks on one letter, or the same mark twice. */
const STACKED = /\p{Mn}{5}|(\p{Mn})\1/u;
/** At the start: it would be drawn on what stands before the name. */
const LEADING_MARK = /^\p{M}/u;
/** Of people's names: letters, marks, digits, and what real names are written with. Signs and brackets are our own marks'. */
const PERSON = /^[\p{L}\p{M}\p{Nd} .,'’·-]*$/u;

/**
 * Words by which a name would pass for somebody with a role, or for the site; in any look-alike of their letters.
 * Whole words and compounds of them alone: "Stewardson" is a name.
 */
const ROLE_WORDS = new Set(
  [
    'steward',
    'stewards',
    'reviewer',
    'reviewers',
    'moderator',
    'administrator',
    'admin',
    'official',
    'staff',
    'support',
    'system',
    'evenloop',
    'demo',
    'verified',
    'anonymous',
    'erased',
  ].map(keyOfWord),
);

/** One form for a name: NFC, spaces of any width one plain space, none at the ends. */
export function tidyName(text: string): string {
  return text
    .normalize('NFC')
    .replace(/\p{Zs}+/gu, ' ')
    .trim();
}

/** What keeps a tidied text from standing in public as the name of a thing. */
export function faultOfName(name: string): Fault | undefined {
  if (NOT_SEEN.test(name))
    return [
      'There are characters in it that are not seen.',
      'Names that look alike must be alike.',
      'Type it anew without them.',
    ];
  if (LEADING_MARK.test(name) || STACKED.test(name.normalize('NFD')))
    return [
      'Accents are piled up in it.',
      'They would be drawn over what stands beside it.',
      'Write letters with their own accents only.',
    ];
  if (hasRareScript(name))
    return [
      'It is written with letters that few readers can tell apart.',
      'Names are taken in scripts of everyday use.',
      'Write it in one of those.',
    ];
  if (!name.split(' ').every(isOfOneWriting))
    return [
      'A word of it mixes letters of several scripts.',
      'Letters of one script can pass for those of another.',
      'Write each word in one script.',
    ];
  return undefined;
}

/** The same of a person's name, which must also not pass for a role or for one of the site's own marks. */
export function faultOfPersonName(name: string): Fault | undefined {
  const fault = faultOfName(name);
  if (fault !== undefined) return fault;
  if (!PERSON.test(name))
    return [
      'There are signs in it that names are not written with.',
      'Signs and brackets beside a name are marks of this site.',
      'Use letters, digits, spaces, full stops, commas, hyphens and apostrophes.',
    ];
  if (!/\p{L}/u.test(name))
    return ['There is no letter in it.', 'It stands beside your runs.', 'Enter at least one letter.'];
  if (imitatesRole(name))
    return [
      'It names a role, or this site.',
      'Readers would take you for somebody who answers for the record.',
      'Leave that word out.',
    ];
  return undefined;
}

function imitatesRole(name: string): boolean {
  const words = name.split(/[\s.,'’·-]+/u);
  // Spelt apart ("s t e w a r d") as well.
  return [...words, words.join('')].some((word) => ROLE_WORDS.has(keyOfWord(word)));
}

function keyOfWord(word: string): string {
  return skeletonOf(skeletonOf(word).toLowerCase());
}

interface Bounds {
  least: number;
  most: number;
  tooShort: string;
  tooLong: string;
}

/** A field that names something public; messages are written as everywhere: what, why, what to do. */
export function nameField(bounds: Bounds, faultOf: (name: string) => Fault | undefined = faultOfName) {
  return (
    z
      .string()
      // What is far too long is not looked at character by character.
      .max(1_000, bounds.tooLong)
      .transform(tidyName)
      .pipe(
        z
          .string()
          .min(bounds.least, bounds.tooShort)
          .max(bounds.most, bounds.tooLong)
          .superRefine((name, context) => {
            const fault = faultOf(name);
            if (fault !== undefined) context.addIssue({ code: 'custom', message: fault.join(' | ') });
          }),
      )
  );
}
