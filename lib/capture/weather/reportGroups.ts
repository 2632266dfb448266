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
  /** After TEMPO, BECMG and the like: a trend forecast, no observation. Not used. */
  readonly forecast: readonly string[];
  /** After RMK: national additions. */
  readonly remarks: readonly string[];
}

const precipitationAndMore = 'DZ|RA|SN|SG|IC|PL|GR|GS|UP|BR|FG|FU|VA|DU|SA|HZ|PY|PO|SQ|FC|SS|DS';

const forms: readonly (readonly [GroupKind, RegExp])[] = [
  ['type', /^(METAR|SPECI)$/],
  ['modifier', /^(AUTO|COR|CC[A-Z]|NIL)$/],
  ['time', /^\d{6}Z$/],
  // Three digits of speed only from 100 on: 24015 25KT run together is no wind of 1525.
  ['wind', /^(\d{3}|VRB)P?(\d{2}|[1-9]\d{2})(GP?(\d{2}|[1-9]\d{2}))?(KT|MPS|KMH)$/],
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
  ['temperature', /^M?\d{2}\/(M?\d{2}|\/\/)?$/],
  ['pressure', /^(Q\d{4}|A\d{4})$/],
  [
    'supplement',
    new RegExp(
      `^(RE(TS|SH|FZ|BL)?(${precipitationAndMore}){1,3}|RETS|WS|W(M?\\d{2}|//)/[SH][\\d/]{1,3}|BLU|WHT|GRN|YLO\\d?|AMB|RED|BLACK(BLU|WHT|GRN|AMB|RED)?)$`,
    ),
  ],
];
const onlyOnce: ReadonlySet<GroupKind> = new Set([
  'type',
  'station',
  'time',
  'wind',
  'windVariation',
  'temperature',
]);
const beginsForecast = /^(NOSIG|TEMPO|BECMG|INTER|PROB\d{2})$/;
/** Wind shear: WS ALL RWY or WS R24. */
const ofWindShear = /^(ALL|RWY|RWY\d{2}[LCR]?|R\d{2}[LCR]?)$/;
/** Two tests in place of one expression, whose tries would grow with the cube of a run of slashes. */
const hasNoValue = (token: string) => token.includes('//') && /^[/A-Z]+$/.test(token);

export function sortGroups(report: string): SortedGroups {
  const [body = '', ...afterEnd] = report.toUpperCase().split('=');
  const tokens = tokensOf(body);
  const remarksFrom = tokens.indexOf('RMK');
  const observed = remarksFrom < 0 ? tokens : tokens.slice(0, remarksFrom);
  const forecastFrom = observed.findIndex((token) => beginsForecast.test(token));
  const bodyEnd = forecastFrom < 0 ? observed.length : forecastFrom;
  const groups: Group[] = [];
  const notReported: string[] = [];
  const unread: string[] = [];
  const seen = new Set<GroupKind>();
  for (let at = 0; at < bodyEnd; at++) {
    const text = observed[at] as string;
    const kind = kindOf(text, observed, at);
    if (kind === null) (hasNoValue(text) ? notReported : unread).push(text);
    else if (seen.has(kind) && onlyOnce.has(kind)) unread.push(text);
    else {
      groups.push({ text, kind });
      seen.add(kind);
    }
  }
  return {
    groups,
    notReported,
    unread: [...unread, ...tokensOf(afterEnd.join(' '))],
    forecast: observed.slice(bodyEnd),
    remarks: remarksFrom < 0 ? [] : tokens.slice(remarksFrom + 1),
  };
}

function tokensOf(text: string): string[] {
  return (
    text
      // A whole and a fraction of statute miles are one group with a space inside.
      .replace(/(^|\s)(\d{1,2}) (\d\/\d{1,2}SM)(?=\s|$)/g, '$1$2_$3')
      .split(/\s+/)
      .filter((token) => token !== '')
      .map((token) => token.replace('_', ' '))
  );
}

/**
 * An aerodrome forecast (TAF, FM 51): it names itself, or a period of validity such as 2218/2324 before any observation
 * could stand, or a change from an instant such as FM221800.
 */
export function isForecast(report: string): boolean {
  const [body = ''] = report.toUpperCase().split(/[=]|\bRMK\b/);
  return tokensOf(body).some(
    (token) => token === 'TAF' || /^\d{4}\/\d{4}$/.test(token) || /^FM\d{6}$/.test(token),
  );
}

const time = /^\d{6}Z$/;

/** A location indicator is any four letters or digits; only its place, right before the time, tells it from a word. */
function kindOf(text: string, tokens: readonly string[], at: number): GroupKind | null {
  const next = tokens[at + 1] ?? '';
  const hasTime = tokens.some((token) => time.test(token));
  const isPlaced = hasTime ? time.test(next) : at === 0 || at === 1;
  if (isPlaced && /^[A-Z][A-Z0-9]{3}$/.test(text) && text !== 'AUTO') return 'station';
  if (ofWindShear.test(text)) {
    const before = tokens[at - 1] ?? '';
    return before === 'WS' || before === 'ALL' ? 'supplement' : null;
  }
  return forms.find(([, form]) => form.test(text))?.[0] ?? null;
}
