import type { ReactElement } from 'react';
import { renderToStaticMarkup } from 'react-dom/server';
import { SaxesParser } from 'saxes';

/** Element of the rendered page. React's static markup is well-formed XML, so a strict parser can read it. */
export interface Element {
  name: string;
  attributes: Record<string, string>;
  children: (Element | string)[];
}

export function render(node: ReactElement): Element {
  return parse(renderToStaticMarkup(node));
}

/** Throws where the markup is not well-formed. */
export function parse(markup: string): Element {
  const root: Element = { name: '#root', attributes: {}, children: [] };
  const open: Element[] = [root];
  const parser = new SaxesParser({ fragment: true, xmlns: false });
  parser.on('error', (error) => {
    throw error;
  });
  parser.on('opentag', (tag) => {
    const attributes = Object.fromEntries(
      Object.entries(tag.attributes).map(([name, value]) => [name, String(value)]),
    );
    const element: Element = { name: tag.name, attributes, children: [] };
    open[open.length - 1]?.children.push(element);
    open.push(element);
  });
  parser.on('closetag', () => {
    open.pop();
  });
  parser.on('text', (text) => {
    open[open.length - 1]?.children.push(text);
  });
  parser.write(markup).close();
  return root;
}

export function all(element: Element, name: string): Element[] {
  return element.children.flatMap((child) =>
    typeof child === 'string' ? [] : [...(child.name === name ? [child] : []), ...all(child, name)],
  );
}

export function only(element: Element, name: string): Element {
  const found = all(element, name);
  const [first] = found;
  if (!first || found.length !== 1) throw new Error(`expected one <${name}>, found ${found.length}`);
  return first;
}

export function byId(element: Element, id: string): Element {
  for (const child of element.children) {
    if (typeof child === 'string') continue;
    if (child.attributes.id === id) return child;
    try {
      return byId(child, id);
    } catch {
      // Not below this child: look at the next one.
    }
  }
  throw new Error(`nothing has the id ${id}`);
}

export function textOf(element: Element): string {
  return lettersOf(element).replace(/\s+/g, ' ').trim();
}

function lettersOf(element: Element): string {
  return element.children.map((child) => (typeof child === 'string' ? child : lettersOf(child))).join('');
}

/** The words that name or describe an element through ids, in the order of the ids. */
export function referenced(
  root: Element,
  element: Element,
  attribute: 'aria-labelledby' | 'aria-describedby',
): string[] {
  return (element.attributes[attribute] ?? '')
    .split(' ')
    .filter(Boolean)
    .map((id) => textOf(byId(root, id)));
}
