import * as say from './prose.messages.ts'

/** What a citation needs of an entry of content/sources. */
export type CitedSource = { title: string; authors?: string | undefined; year: number }

const issuers = /^(iso|iec|din|en|ansi|niosh)-(.+)$/

/**
 * A source as a table or a sentence names it: 'ISO 9613-1:1993' for a standard, 'Morse and Ingard 1968' for a work with
 * authors, else the title.
 *
 * @param key  file name in content/sources, without .json; a standard's is its issuer and number, 'iso-9613-1'
 */
export function sourceCitation(key: string, { title, authors, year }: CitedSource): string {
  const [, issuer, number] = issuers.exec(key) ?? []
  if (issuer && number) return `${issuer.toUpperCase()} ${number}:${year}`
  if (!authors) return title
  const names = authors.replace(/,?\s+(Jr|Sr)\.?/g, '').split(/,| and |;/)
  const surnames = names.map((name) => name.trim().split(/\s+/).at(-1) ?? '').filter(Boolean)
  const [first = '', second] = surnames
  if (surnames.length > 2) return say.moreAuthors({ first, year: String(year) })
  return second ? say.twoAuthors({ first, second, year: String(year) }) : `${first} ${year}`
}
