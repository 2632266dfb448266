import { createHash, createPublicKey, type KeyObject, sign, verify } from 'node:crypto';
import { z } from 'zod';
import { keyIdOf } from '@/lib/trail/seal';

/** What is signed names its form, so that no signature of another kind by the same key can pass for one. */
const FORM = 'evenloop snapshot signature, form 1';

const signatureSchema = z.strictObject({
  form: z.literal(FORM),
  keyId: z.string(),
  /** SubjectPublicKeyInfo in PEM. Whether it is the registry's own is for the reader to compare. */
  publicKey: z.string().max(1000),
  /** Of the descriptor, in hexadecimal. */
  sha256: z.string().regex(/^[0-9a-f]{64}$/),
  /** Ed25519 (RFC 8032) over the form and the digest, base64. */
  signature: z.base64(),
});

/** The descriptor names the digest of every other file, so one signature over it is one over all. */
export function signedDescriptor(descriptor: Uint8Array, privateKey: KeyObject): string {
  const publicKey = createPublicKey(privateKey);
  const sha256 = digestOf(descriptor);
  return `${JSON.stringify(
    {
      form: FORM,
      keyId: keyIdOf(publicKey),
      publicKey: publicKey.export({ type: 'spki', format: 'pem' }).toString(),
      sha256,
      signature: sign(null, messageOf(sha256), privateKey).toString('base64'),
    },
    null,
    1,
  )}\n`;
}

export type SignatureCheck =
  | { ok: true; keyId: string; publicKey: KeyObject }
  | { ok: false; reason: string };

/** Whether the signature is of this descriptor, by the key that it names or, where some are given, by one of these. */
export function checkSignature(
  signature: string,
  descriptor: Uint8Array,
  trusted: readonly KeyObject[],
): SignatureCheck {
  const parsed = signatureSchema.safeParse(jsonOf(signature));
  if (!parsed.success) return { ok: false, reason: 'the signature cannot be read' };
  const { keyId, sha256 } = parsed.data;
  let publicKey: KeyObject;
  try {
    publicKey = createPublicKey(parsed.data.publicKey);
  } catch {
    return { ok: false, reason: 'the signature names no key' };
  }
  if (publicKey.asymmetricKeyType !== 'ed25519' || keyIdOf(publicKey) !== keyId)
    return { ok: false, reason: 'the key is not the one that the signature names' };
  if (sha256 !== digestOf(descriptor))
    return { ok: false, reason: 'the descriptor is not the one that was signed' };
  if (!verify(null, messageOf(sha256), publicKey, Buffer.from(parsed.data.signature, 'base64')))
    return { ok: false, reason: 'the signature is not of this descriptor by this key' };
  if (trusted.length > 0 && !trusted.some((key) => keyIdOf(key) === keyId))
    return { ok: false, reason: `it was signed by the key ${keyId}, which is none of those that you trust` };
  return { ok: true, keyId, publicKey };
}

function digestOf(bytes: Uint8Array): string {
  return createHash('sha256').update(bytes).digest('hex');
}

function messageOf(sha256: string): Buffer {
  return Buffer.from(`${FORM}\n${sha256}`, 'utf8');
}

function jsonOf(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}
