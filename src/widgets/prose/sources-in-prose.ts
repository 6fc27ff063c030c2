/**
 * Keys of the sources that a page's MDX cites with <Source id="…">, each once, in order of first use.
 * Read from the text itself, so that the list under a lesson cannot differ from the lesson.
 */
export const sourcesInProse = (mdx: string): string[] => [
  ...new Set([...mdx.matchAll(/<Source\s+id="([^"]+)"/g)].map((match) => match[1] ?? '')),
]
