import { textOfMarkup } from './pageText';

/**
 * Words that somebody who never met statistics cannot be expected to know. A public page says them only in a margin note
 * or behind a disclosure, beside a sentence of everyday words; the pages on the method and on its intervals, which are
 * about them, may say them anywhere.
 */
const SPECIALIST_WORDS =
  /\b(simultaneous(ly)?|pointwise|birge|studenti[sz]ed|kenward|satterthwaite|shrunk(en)?|shrinkage|log score|degrees? of freedom|coverage|mandel|cochran|grubbs|by holm|reproducibility|repeatability|reml|likelihood|posteriors?|priors?|(co)?variances?|standard (deviation|error|uncertaint(y|ies))|residuals?|quantiles?|percentiles?|correlat(ed|ion)|heterogeneity|outliers?|stragglers?|random effects?|p-values?|monte carlo|first.order|geometric mean|regression|significan(t|ce)|converged?|normali[sz]\w+|estimand|bayes\w*|nominal)\b|χ²/iu;

/** What a page says to everybody: without what is folded away or stands in a margin note; what is only heard counts. */
export function everydayText(markup: string): string {
  return textOfMarkup(withoutMachinery(markup).replace(/ aria-label="([^"]*)"([^>]*)>/g, '$2> $1 '));
}

/** The lines of a page in which a specialist's word stands before everybody. */
export function specialistLines(markup: string): string[] {
  return everydayText(markup)
    .split('\n')
    .filter((line) => SPECIALIST_WORDS.test(line));
}

const VOID = /^(area|base|br|col|embed|hr|img|input|link|meta|source|wbr)$/;

function withoutMachinery(markup: string): string {
  let kept = '';
  let from = 0;
  /** Open elements inside the part that is left out, that part's own first. */
  let depth = 0;
  for (const tag of markup.matchAll(/<(\/?)([a-z][a-z0-9-]*)([^>]*?)(\/?)>/gi)) {
    const [all, closing, name = '', attributes = '', closed] = tag;
    if (depth === 0) {
      if (closing === '/' || !isMachinery(name, attributes)) continue;
      kept += markup.slice(from, tag.index);
      depth = 1;
      continue;
    }
    if (closing === '/') depth -= 1;
    else if (closed !== '/' && !VOID.test(name)) depth += 1;
    if (depth === 0) from = tag.index + all.length;
  }
  return kept + markup.slice(from);
}

const isMachinery = (name: string, attributes: string) =>
  /^(details|script|style|code)$/i.test(name) || /class="(?:[^"]* )?margin-note[ "]/.test(attributes);
