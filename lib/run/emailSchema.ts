import { z } from 'zod';

/** An address as accounts keep it. */
export const emailSchema = z
  .email('This is not an e-mail address. | It is your name at sign-in. | Enter it as name@domain.')
  .max(254, 'This address is too long. | No mail server takes one. | Enter one of at most 254 characters.')
  .transform((email) => email.toLowerCase());
