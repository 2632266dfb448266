/**
 * The colours of both themes: paper and ink, one accent (the pen), three states that always come
 * with a word and a shape. The same values stand in app/globals.css as custom properties; a test
 * holds the two together and computes the contrasts.
 */
export const paletteNames = [
  'paper',
  'sheet',
  'wash',
  'ink',
  'ink-soft',
  'ink-faint',
  'rule',
  'rule-strong',
  'accent',
  'accent-ink',
  'accent-wash',
  'caution',
  'caution-wash',
  'problem',
  'problem-wash',
  'done',
  'done-wash',
] as const;

export type PaletteName = (typeof paletteNames)[number];
export type Palette = Record<PaletteName, string>;

export const lightPalette: Palette = {
  paper: '#f9faf6',
  sheet: '#ffffff',
  wash: '#eef1eb',
  ink: '#18212a',
  'ink-soft': '#4b5761',
  'ink-faint': '#76828a',
  rule: '#d3d9d3',
  'rule-strong': '#76828a',
  accent: '#1c3fc4',
  'accent-ink': '#ffffff',
  'accent-wash': '#e2e8fb',
  caution: '#825000',
  'caution-wash': '#faf0dc',
  problem: '#a8261c',
  'problem-wash': '#fbe8e4',
  done: '#1f6a45',
  'done-wash': '#e4f2e8',
};

export const darkPalette: Palette = {
  paper: '#13181b',
  sheet: '#1a2024',
  wash: '#20272b',
  ink: '#e6e8e1',
  'ink-soft': '#aab3b5',
  'ink-faint': '#7d898e',
  rule: '#323b40',
  'rule-strong': '#7d898e',
  accent: '#9fb6ff',
  'accent-ink': '#10151f',
  'accent-wash': '#222c4a',
  caution: '#e7b45c',
  'caution-wash': '#30270f',
  problem: '#ff9d8f',
  'problem-wash': '#3a1f1c',
  done: '#7fcf9f',
  'done-wash': '#17301f',
};
