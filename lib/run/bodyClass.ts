import { labelOf } from './namedValues';

/** The shapes of body between which an assumed drag area differs, in the order in which a form offers them. */
export const BODY_CLASSES = [
  { value: 'saloon', label: 'Saloon' },
  { value: 'hatch', label: 'Hatch' },
  { value: 'suv', label: 'SUV' },
  { value: 'van', label: 'Van or small bus' },
  { value: 'pickup', label: 'Pick-up' },
] as const;

export type BodyClass = (typeof BODY_CLASSES)[number]['value'];

export function bodyLabel(bodyClass: string): string {
  return labelOf(BODY_CLASSES, bodyClass);
}
