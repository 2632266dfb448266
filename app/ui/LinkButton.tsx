import type { ReactNode } from 'react';
import { type ButtonSize, type ButtonVariant, buttonClass } from './buttonClass';
import { Link } from './Link';

interface LinkButtonProps {
  href: string;
  children: ReactNode;
  variant?: ButtonVariant;
  size?: ButtonSize;
  /** A file or an address outside the app: a plain link, no client-side move. */
  plain?: boolean;
  download?: boolean | string;
  'aria-label'?: string;
}

/** A link that looks like a button because it starts something. */
export function LinkButton({
  href,
  children,
  variant = 'secondary',
  size = 'normal',
  plain,
  ...rest
}: LinkButtonProps) {
  const className = buttonClass(variant, size);
  if (plain || rest.download !== undefined) {
    return (
      <a href={href} className={className} {...rest}>
        {children}
      </a>
    );
  }
  return (
    <Link href={href} className={className} {...rest}>
      {children}
    </Link>
  );
}
