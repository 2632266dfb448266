/** One primary action a view; secondary for the rest; quiet inside rows; danger for what cannot be undone. */
export type ButtonVariant = 'primary' | 'secondary' | 'quiet' | 'danger';
/** 'field' is the big target of forms used one-handed beside the road. */
export type ButtonSize = 'normal' | 'field';

const shape =
  'inline-flex items-center justify-center gap-2 rounded-sm text-center font-semibold no-underline disabled:cursor-not-allowed disabled:opacity-55 aria-disabled:cursor-not-allowed aria-disabled:opacity-55';
const looks: Record<ButtonVariant, string> = {
  primary: 'border border-accent bg-accent text-accent-ink hover:border-ink hover:bg-ink hover:text-paper',
  secondary: 'border border-rule-strong bg-sheet text-ink hover:border-ink hover:bg-wash',
  quiet: 'border border-transparent text-accent underline underline-offset-4 hover:bg-wash',
  danger: 'border border-problem bg-sheet text-problem hover:bg-problem hover:text-paper',
};
const sizes: Record<ButtonSize, string> = {
  normal: 'min-h-11 px-4 text-sm',
  field: 'min-h-14 w-full px-5 text-lg',
};

export function buttonClass(variant: ButtonVariant = 'secondary', size: ButtonSize = 'normal'): string {
  return `${shape} ${looks[variant]} ${sizes[size]}`;
}
