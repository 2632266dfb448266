/** Maker, model, year and variant on one line. */
export function modelWords(model: {
  name: string;
  modelYear: number;
  variant: string;
  maker: { name: string };
}): string {
  return [model.maker.name, model.name, String(model.modelYear), model.variant].filter(Boolean).join(' ');
}
