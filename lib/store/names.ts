/** What a model and a person are called by, wherever rows name them. */

export const MODEL_NAME = {
  slug: true,
  name: true,
  modelYear: true,
  variant: true,
  maker: { select: { name: true } },
} as const;

export const PERSON = { displayName: true, slug: true } as const;
