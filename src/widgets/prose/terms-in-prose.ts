/** Keys of the glossary entries that a page's MDX uses with <Term id="…">, each once, in order of first use. */
export const termsInProse = (mdx: string): string[] => [
  ...new Set([...mdx.matchAll(/<Term\s+id="([^"]+)"/g)].map((match) => match[1] ?? '')),
]
