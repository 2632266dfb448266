import type { DemoPerson } from './types';

/** All invented, as are the islands, makers, models and roads of this world. */
export const COUNTRY = 'Republic of the Averil Islands';

const MAIL_DOMAIN = 'averil.example';

const person = (key: string, displayName: string, role: DemoPerson['role']): DemoPerson => ({
  key,
  displayName,
  email: `${key}@${MAIL_DOMAIN}`,
  role,
});

export const TESTERS: readonly DemoPerson[] = [
  person('anouk', 'Anouk Seldrin', 'tester'),
  person('bram', 'Bram Ottelay', 'tester'),
  person('celia', 'Celia Varndal', 'tester'),
  person('davin', 'Davin Rookmere', 'tester'),
  person('elin', 'Elin Marskell', 'tester'),
  person('farah', 'Farah Innisol', 'tester'),
  person('goran', 'Goran Tellaby', 'tester'),
  person('hana', 'Hana Breskin', 'tester'),
  person('ivo', 'Ivo Lannerby', 'tester'),
  person('juna', 'Juna Pellaram', 'tester'),
  person('kofi', 'Kofi Ardenay', 'tester'),
  person('lena', 'Lena Orrelund', 'tester'),
];

export const REVIEWERS: readonly DemoPerson[] = [
  person('mateo', 'Mateo Corvinel', 'reviewer'),
  person('nia', 'Nia Sondarell', 'reviewer'),
  person('oskar', 'Oskar Vennaby', 'reviewer'),
];

export const STEWARD: DemoPerson = person('petra', 'Petra Hollinde', 'steward');

export const PEOPLE: readonly DemoPerson[] = [...TESTERS, ...REVIEWERS, STEWARD];
