import { THIN_SPACE } from '@/lib/units/format';

/** A sentence whose per cent signs stay with their numbers where a line ends. */
export function unbroken(sentence: string): string {
  return sentence.replaceAll(' %', `${THIN_SPACE}%`);
}
