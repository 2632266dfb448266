/** The words of a command line as a shell takes them: quotes, and variables where they are not in single ones. */
function shellWords(line: string, variables: Readonly<Record<string, string>>): string[] {
  const filled = (text: string) =>
    text.replace(/\$([A-Z]+)/g, (_, name: string) => {
      const value = variables[name];
      if (value === undefined) throw new Error(`the variable ${name} is not set`);
      return value;
    });
  return [...line.replaceAll(/\\\n/g, ' ').matchAll(/(?:'[^']*'|"[^"]*"|[^\s'"]+)+/g)].map(([word]) =>
    word.replace(/'([^']*)'|"([^"]*)"|[^'"]+/g, (part, single, double) => single ?? filled(double ?? part)),
  );
}

/** The request that a printed command for curl would send. An option that is not known here fails the test. */
export function curlRequest(
  command: string,
  variables: Readonly<Record<string, string>>,
  files: Readonly<Record<string, Uint8Array>>,
): Request {
  const [program, ...words] = shellWords(command, variables);
  if (program !== 'curl') throw new Error(`not a command for curl: ${command}`);
  let url: string | undefined;
  let method = 'GET';
  let body: string | Uint8Array<ArrayBuffer> | undefined;
  const headers = new Headers();
  while (words.length > 0) {
    const word = words.shift() ?? '';
    if (word === '-i') continue;
    if (!word.startsWith('-')) {
      url = word;
      continue;
    }
    const value = words.shift() ?? '';
    if (word === '-X') method = value;
    else if (word === '-H')
      headers.append(value.slice(0, value.indexOf(':')), value.slice(value.indexOf(':') + 1).trim());
    else if (word === '-d') body = value;
    else if (word === '--data-binary' && value.startsWith('@')) {
      const file = files[value.slice(1)];
      if (file === undefined) throw new Error(`there is no file ${value}`);
      body = new Uint8Array(file);
    } else throw new Error(`unknown option ${word}`);
  }
  if (url === undefined) throw new Error('no address');
  return new Request(url, { method, headers, ...(body === undefined ? {} : { body }) });
}
