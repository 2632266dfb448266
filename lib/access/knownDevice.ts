import { createHmac, randomBytes, timingSafeEqual } from 'node:crypto';

const MARK = /^([A-Za-z0-9_-]{22})\.([A-Za-z0-9_-]{43})$/;

/** A mark for a browser that has signed in with the address: 128 bits of chance, signed together with the address. */
export function newDeviceMark(secret: string, email: string): string {
  const device = randomBytes(16).toString('base64url');
  return `${device}.${signature(secret, email, device)}`;
}

/** The device that the mark names, where it was made here for this address; it says nothing of a password. */
export function deviceOfMark(secret: string, email: string, mark: string | undefined): string | undefined {
  const [, device, sent] = MARK.exec(mark ?? '') ?? [];
  if (device === undefined || sent === undefined) return undefined;
  const made = Buffer.from(signature(secret, email, device));
  return timingSafeEqual(made, Buffer.from(sent)) ? device : undefined;
}

function signature(secret: string, email: string, device: string): string {
  const said = `known device\n${device}\n${email.trim().toLowerCase()}`;
  return createHmac('sha256', secret).update(said).digest('base64url');
}
