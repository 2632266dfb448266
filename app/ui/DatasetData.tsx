import { publicAddress } from '@/app/runDossier/publicAddress';

interface DatasetDataProps {
  name: string;
  description: string;
  path: string;
  /** When the numbers came about. */
  modifiedAt?: Date | undefined;
  /** Its address for programs, where the same is to be had as JSON and as CSV. */
  readAt?: string | undefined;
  /** A file of all of it. */
  archive?: string | undefined;
}

/** A page's numbers for search engines that look for data (schema.org, Dataset). Data and no script: nothing runs. */
export function DatasetData({ name, description, path, modifiedAt, readAt, archive }: DatasetDataProps) {
  const url = publicAddress(path);
  const downloads = [
    ...(readAt === undefined
      ? []
      : (['application/json', 'text/csv'] as const).map((type) => [type, readAt])),
    ...(archive === undefined ? [] : [['application/zip', archive]]),
  ];
  const data = {
    '@context': 'https://schema.org',
    '@type': 'Dataset',
    name,
    description,
    url,
    isAccessibleForFree: true,
    // what the steward chose is said there
    license: publicAddress('/data#licence'),
    creator: { '@type': 'Organization', name: 'Evenloop' },
    variableMeasured: {
      '@type': 'PropertyValue',
      name: 'Energy consumption per distance',
      unitText: 'Wh/km',
    },
    ...(modifiedAt === undefined ? {} : { dateModified: modifiedAt.toISOString() }),
    distribution: downloads.map(([encodingFormat, address = '']) => ({
      '@type': 'DataDownload',
      encodingFormat,
      contentUrl: publicAddress(address),
    })),
  };
  return (
    <script
      type="application/ld+json"
      // biome-ignore lint/security/noDangerouslySetInnerHtml: JSON with every < escaped, so that nothing ends the element
      dangerouslySetInnerHTML={{ __html: JSON.stringify(data).replaceAll('<', '\\u003c') }}
    />
  );
}
