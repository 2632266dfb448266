const BODY_LABELS: Readonly<Record<string, string>> = {
  saloon: 'Saloon',
  hatch: 'Hatch',
  suv: 'SUV',
  van: 'Van or small bus',
  pickup: 'Pick-up',
};

export function bodyLabel(bodyClass: string): string {
  return BODY_LABELS[bodyClass] ?? bodyClass;
}
