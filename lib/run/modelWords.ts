/** What names a model. */
export interface ModelName {
  name: string;
  modelYear: number;
  variant: string;
  maker: { name: string };
}

/** Maker, model, year and variant on one line. */
export function modelWords({ maker, name, modelYear, variant }: ModelName): string {
  return [maker.name, name, String(modelYear), variant].filter(Boolean).join(' ');
}

/** The same with commas, where it stands in running text: "Maker Model, 2025, variant". */
export function modelInText({ maker, name, modelYear, variant }: ModelName): string {
  return [`${maker.name} ${name}`, String(modelYear), variant].filter(Boolean).join(', ');
}
