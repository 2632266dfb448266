import { Section } from '@/app/ui/Section';

const REFERENCES: readonly (readonly [name: string, what: string])[] = [
  ['JCGM 100:2008', 'Guide to the expression of uncertainty in measurement'],
  ['JCGM 101:2008', 'Propagation of distributions by a Monte Carlo method'],
  ['ISO 5725-2 and ISO 5725-6', 'Repeatability and reproducibility of a measurement method; limits of 2.8 s'],
  ['UN GTR No. 15, Annex 4', 'Road load: reference air and the temperature law of rolling resistance'],
  ['SAE J1263 and SAE J2263', 'Road load by coast-down: the form of the model'],
  ['ISO 2533:1975', 'Standard atmosphere, where only the altitude is known'],
  ['CIPM-2007', 'Density of moist air: Picard A. et al., Metrologia 45 (2008) 149'],
  ['WMO Guide No. 8', 'Vapour pressure of water in air'],
  ['WMO FM 15 and FM 16', 'The code of aerodrome weather reports'],
  ['SI Brochure, 9th edition, and NIST SP 811', 'Units and their exact factors'],
  [
    'Kenward M. G., Roger J. H. (1997), Biometrics 53, 983',
    'Small-sample inference for fixed effects from restricted maximum likelihood',
  ],
  ['Satterthwaite F. E. (1946), Biometrics Bulletin 2, 110', 'Degrees of freedom of combined variances'],
  [
    'Mogstad M., Romano J. P., Shaikh A. M., Wilhelm D. (2024), Review of Economic Studies 91, 476',
    'Confidence sets for ranks',
  ],
  ['Knapp G., Hartung J. (2003), Statistics in Medicine 22, 2693', 'Intervals for combined differences'],
];

/** Where the formulas are from. Each names its source in the code as well. */
export function References() {
  return (
    <Section id="references" title="References">
      <ul className="space-y-2 text-sm">
        {REFERENCES.map(([name, what]) => (
          <li key={name}>
            <strong className="font-semibold">{name}</strong>
            <span className="block text-ink-soft">{what}</span>
          </li>
        ))}
      </ul>
    </Section>
  );
}
