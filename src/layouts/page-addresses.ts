/** Where the pages of content/pages stand whose address is not their name. */
const addresses: Readonly<Record<string, string>> = {
  home: '/',
  'not-found': '/404/',
  afterwards: '/lessons/afterwards/',
  card: '/lessons/card/',
  'compare-sent': '/compare/sent/',
  'final-check': '/lessons/final-check/',
  sheet: '/lessons/sheet/',
}

/** The address of the page whose words are content/pages/<name>.mdx. */
export const pageAddress = (name: string): string => addresses[name] ?? `/${name}/`
