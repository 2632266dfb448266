import { AwsV4Signer } from 'aws4fetch';

export interface SigningKey {
  readonly accessKeyId: string;
  readonly secretAccessKey: string;
  /** With temporary keys only. */
  readonly sessionToken?: string;
  readonly region: string;
}

export interface RequestToSign {
  readonly method: 'GET' | 'HEAD' | 'PUT' | 'DELETE';
  readonly url: URL;
  readonly headers: Readonly<Record<string, string>>;
  /** SHA-256 of the body in hexadecimal, of nothing where there is none. */
  readonly payloadHash: string;
  readonly at: Date;
}

/**
 * All headers to send to an object store that speaks the S3 protocol, Authorization among them (AWS Signature
 * Version 4, header form). Every header is signed, and the body by its hash: the library would leave both open.
 */
export async function signRequest(request: RequestToSign, key: SigningKey): Promise<Headers> {
  const { method, url, payloadHash, at } = request;
  const signer = new AwsV4Signer({
    method,
    url: url.href,
    headers: { ...request.headers, 'x-amz-content-sha256': payloadHash },
    ...key,
    service: 's3',
    datetime: at.toISOString().replace(/[-:]|\.\d{3}/g, ''),
    allHeaders: true,
  });
  return (await signer.sign()).headers;
}
