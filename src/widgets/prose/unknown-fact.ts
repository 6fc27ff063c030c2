/**
 * What stops a build that asks for a fact there is not: MDX is not type-checked, so a misspelt name comes as far as this.
 *
 * @param page   address of the page that asks
 * @param known  full names to choose from
 */
export const unknownFact = (page: string, name: string, known: readonly string[]): Error =>
  new Error(
    `${page}: no fact is called "${name}". Near it are ${nearestTo(name, known)
      .map((near) => `"${near}"`)
      .join(', ')}.`,
  )

/** The names most like a misspelt one, the likest first. */
export const nearestTo = (name: string, names: readonly string[], count = 3): string[] =>
  names
    .map((known) => ({ known, edits: editsBetween(name, known) }))
    .sort((a, b) => a.edits - b.edits)
    .slice(0, count)
    .map(({ known }) => known)

/** How many letters must be put in, taken out or changed to turn one word into another (Levenshtein's distance). */
function editsBetween(from: string, to: string): number {
  let row = Array.from({ length: to.length + 1 }, (_, index) => index)
  for (const [i, letter] of [...from].entries()) {
    const next = [i + 1]
    for (const [j, other] of [...to].entries()) {
      const [changed = 0, added = 0, removed = 0] = [row[j], next[j], row[j + 1]]
      next.push(Math.min(changed + (letter === other ? 0 : 1), added + 1, removed + 1))
    }
    row = next
  }
  return row.at(-1) ?? 0
}
