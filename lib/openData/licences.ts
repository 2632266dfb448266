/** Under what the numbers may be used; the steward chooses one for the snapshots to come. */
export const LICENCES = [
  {
    value: 'CC-BY-4.0',
    label: 'CC BY 4.0: anybody may use the numbers, and says where they are from',
    title: 'Creative Commons Attribution 4.0 International',
    path: 'https://creativecommons.org/licenses/by/4.0/',
  },
  {
    value: 'CC-BY-SA-4.0',
    label: 'CC BY-SA 4.0: the same, and what is made of them is as free',
    title: 'Creative Commons Attribution-ShareAlike 4.0 International',
    path: 'https://creativecommons.org/licenses/by-sa/4.0/',
  },
  {
    value: 'CC0-1.0',
    label: 'CC0 1.0: no conditions at all',
    title: 'Creative Commons Zero 1.0 Universal',
    path: 'https://creativecommons.org/publicdomain/zero/1.0/',
  },
] as const;

export type Licence = (typeof LICENCES)[number];

/** Unless a steward chooses. */
export const DEFAULT_LICENCE: Licence = LICENCES[0];

/** The licence of that name; the default one where a setting names none. */
export function licenceOf(value: unknown): Licence {
  return LICENCES.find((licence) => licence.value === value) ?? DEFAULT_LICENCE;
}
