/** What a model and a person are called by and a photo is shown by, wherever rows name them. */

export const MODEL_NAME = {
  slug: true,
  name: true,
  modelYear: true,
  variant: true,
  maker: { select: { name: true } },
} as const;

/** What a model's data sheet says of it, as a run's numbers and an estimate take it. */
export const DATA_SHEET = {
  bodyClass: true,
  kerbMassKg: true,
  usableCapacityWh: true,
  dragAreaM2: true,
  dragAreaSource: true,
  hasHeatPump: true,
} as const;

export const PERSON = { displayName: true, slug: true } as const;

export const PHOTO = {
  id: true,
  kind: true,
  sha256: true,
  thumbSha256: true,
  widthPx: true,
  heightPx: true,
  capturedAt: true,
} as const;
