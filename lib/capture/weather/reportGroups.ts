/**
 * Sorts the groups of an aerodrome report into kinds by their form (WMO-No. 306, Manual on Codes, volume I.1, FM 15
 * METAR and FM 16 SPECI; ICAO Annex 3, appendix 3), so that what has no known form is listed and nothing is guessed.
 */
export type GroupKind =
  | 'type'
  | 'modifier'
  | 'station'
  | 'time'
  | 'wind'
  | 'windVariation'
  | 'visibility'
  | 'runway'
  | 'weather'
  | 'cloud'
  | 'temperature'
  | 'pressure'
  | 'supplement';

export interface Group {
  readonly text: string;
  readonly kind: GroupKind;
}

export interface SortedGroups {
  readonly groups: readonly Group[];
  /** Groups whose sender had no value: slashes by the rules. */
  readonly notReported: readonly string[];
  /** Groups with no known form, or a second time where one is allowed. */
  readonly unread: readonly string[];
  /** After RMK: national additions. */
  readonly remarks: readonly string[];
}

const precipitationAndMore = 'DZ|RA|SN|SG|IC|PL|GR|GS|UP|BR|FG|FU|VA|DU|SA|HZ|PY|PO|SQ|FC|SS|DS';

const forms: readonly (readonly [GroupKind, RegExp])[] = [
  ['type', /^(METAR|SPECI)$/],
  ['modifier', /^(AUTO|COR|CC[A-Z]|NIL)$/],
  ['time', /^\d{6}Z$/],
  ['wind', /^(\d{3}|VRB)P?\d{2,3}(GP?\d{2,3})?(KT|MPS|KMH)$/],
  ['windVariation', /^\d{3}V\d{3}$/],
  ['visibility', /^(CAVOK|\d{4}(NDV|N|NE|E|SE|S|SW|W|NW)?|[PM]?\d{1,2}SM|[PM]?(\d{1,2} )?\d\/\d{1,2}SM)$/],
  ['runway', /^(R\d{2}[LCR]?\/\S+|RVRNO)$/],
  // Vicinity before the plain form, which would also take VCSH's descriptor apart.
  [
    'weather',
    new RegExp(
      `^(VC(FG|PO|FC|DS|SS|TS|SH|BLSN|BLSA|BLDU|VA)|NSW|[+-]?(TS|SH)|[+-]?(MI|BC|PR|DR|BL|SH|TS|FZ)?(${precipitationAndMore}){1,3})$`,
    ),
  ],
  ['cloud', /^((FEW|SCT|BKN|OVC|VV)(\d{3}|\/{3})(CB|TCU|\/{3})?|SKC|CLR|NSC|NCD)$/],
  ['temperature', /^M?\d{2}\/(M?\d{2})?$/],
  ['pressure', /^(Q\d{4}|A\d{4})$/],
  ['supplement', /^(RE\S+|WS|ALL|RWY|W(M?\d{2}|\/\/)\/[SH]\S+|BLU|WHT|GRN|YLO\d?|AMB|RED|BLACK\w*)$/],
];
const onlyOnce: ReadonlySet<GroupKind> = new Set([
  'type',
  'station',
  'time',
  'wind',
  'windVariation',
  'temperature',
]);
const endsBody = /^(NOSIG|TEMPO|BECMG|INTER|PROB\d{2}|RMK)$/;
/** Two tests in place of one expression, whose tries would grow with the cube of a run of slashes. */
const hasNoValue = (token: string) => token.includes('//') && /^[/A-Z]+$/.test(token);

export function sortGroups(report: string): SortedGroups {
  const tokens = report
    .toUpperCase()
    .replace(/=[\s\S]*$/, '')
    // A whole and a fraction of statute miles are one group with a space inside.
    .replace(/(^|\s)(\d{1,2}) (\d\/\d{1,2}SM)(?=\s|$)/g, '$1$2_$3')
    .split(/\s+/)
    .filter((token) => token !== '')
    .map((token) => token.replace('_', ' '));
  const groups: Group[] = [];
  const notReported: string[] = [];
  const unread: string[] = [];
  const seen = new Set<GroupKind>();
  let at = 0;
  for (; at < tokens.length; at++) {
    const text = tokens[at] as string;
    if (endsBody.test(text)) break;
    const kind = kindOf(text, seen);
    if (kind === null) (hasNoValue(text) ? notReported : unread).push(text);
    else if (seen.has(kind) && onlyOnce.has(kind)) unread.push(text);
    else {
      groups.push({ text, kind });
      seen.add(kind);
    }
  }
  const remarksFrom = tokens.indexOf('RMK', at);
  return { groups, notReported, unread, remarks: remarksFrom < 0 ? [] : tokens.slice(remarksFrom + 1) };
}

function kindOf(text: string, seen: ReadonlySet<GroupKind>): GroupKind | null {
  // A location indicator is any four letters or digits; only its place, before the time, tells it from a word.
  if (!seen.has('station') && !seen.has('time') && /^[A-Z][A-Z0-9]{3}$/.test(text)) {
    if (text !== 'AUTO') return 'station';
  }
  return forms.find(([, form]) => form.test(text))?.[0] ?? null;
}
