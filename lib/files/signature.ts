/**
 * Request signing for object stores that speak the S3 protocol: AWS Signature Version 4, "Authenticating Requests:
 * Using the Authorization Header" in the Amazon S3 API Reference. HMAC: RFC 2104; SHA-256: FIPS 180-4.
 */
import { createHash, createHmac } from 'node:crypto';

export interface SigningKey {
  readonly accessKeyId: string;
  readonly secretAccessKey: string;
  /** With temporary keys only. */
  readonly sessionToken?: string;
  readonly region: string;
}

export interface RequestToSign {
  readonly method: 'GET' | 'HEAD' | 'PUT' | 'DELETE';
  /** Its path as it will be sent, already encoded. */
  readonly url: URL;
  /** Signed along; host and x-amz-… are added here. */
  readonly headers: Readonly<Record<string, string>>;
  /** SHA-256 of the body in hexadecimal, of nothing where there is none. */
  readonly payloadHash: string;
  readonly at: Date;
}

/** All headers to send, Authorization among them; `host` is left to the transport, which sends the same. */
export function signRequest(request: RequestToSign, key: SigningKey): Record<string, string> {
  const { method, url, payloadHash, at } = request;
  const timestamp = at.toISOString().replace(/[-:]|\.\d{3}/g, '');
  const scope = `${timestamp.slice(0, 8)}/${key.region}/s3/aws4_request`;
  const sent: Record<string, string> = {
    ...request.headers,
    'x-amz-content-sha256': payloadHash,
    'x-amz-date': timestamp,
    ...(key.sessionToken === undefined ? {} : { 'x-amz-security-token': key.sessionToken }),
  };
  const canonical = Object.entries({ ...sent, host: url.host })
    .map(([name, value]) => [name.toLowerCase(), value.trim().replace(/ +/g, ' ')] as const)
    .sort(([a], [b]) => (a < b ? -1 : 1));
  const signedHeaders = canonical.map(([name]) => name).join(';');
  const canonicalRequest = [
    method,
    canonicalPath(url),
    canonicalQuery(url),
    ...canonical.map(([name, value]) => `${name}:${value}`),
    '',
    signedHeaders,
    payloadHash,
  ].join('\n');
  const toSign = ['AWS4-HMAC-SHA256', timestamp, scope, sha256Hex(canonicalRequest)].join('\n');
  const signingKey = [timestamp.slice(0, 8), key.region, 's3', 'aws4_request'].reduce<Buffer | string>(
    (secret, part) => hmac(secret, part),
    `AWS4${key.secretAccessKey}`,
  );
  const signature = hmac(signingKey, toSign).toString('hex');
  return {
    ...sent,
    authorization: `AWS4-HMAC-SHA256 Credential=${key.accessKeyId}/${scope},SignedHeaders=${signedHeaders},Signature=${signature}`,
  };
}

/** S3 encodes each path segment once; URL leaves some characters bare that the signature wants encoded. */
function canonicalPath(url: URL): string {
  return url.pathname
    .split('/')
    .map((segment) => encodeStrictly(decodeURIComponent(segment)))
    .join('/');
}

function canonicalQuery(url: URL): string {
  return [...url.searchParams]
    .map(([name, value]) => `${encodeStrictly(name)}=${encodeStrictly(value)}`)
    .sort()
    .join('&');
}

/** Everything but the unreserved characters of RFC 3986, 2.3. */
function encodeStrictly(text: string): string {
  return encodeURIComponent(text).replace(
    /[!'()*]/g,
    (char) => `%${char.charCodeAt(0).toString(16).toUpperCase()}`,
  );
}

function hmac(key: Buffer | string, text: string): Buffer {
  return createHmac('sha256', key).update(text).digest();
}

function sha256Hex(text: string): string {
  return createHash('sha256').update(text).digest('hex');
}
