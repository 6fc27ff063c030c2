/** A piece of text, marked where a word that was looked for stands. */
export type Piece = { text: string; isMark: boolean }

/** Letters of an excerpt, about. */
const excerptLength = 180

/**
 * The piece of a text round the first word that was looked for, cut at words, with all of them marked.
 *
 * @param text   of the passage
 * @param terms  as they stand in the index: small letters, no accents
 */
export function excerptOf(text: string, terms: readonly string[]): Piece[] {
  const found = (word: string) => terms.includes(word.normalize('NFD').replace(/\p{M}/gu, '').toLowerCase())
  const words = [...text.matchAll(/[\p{L}\p{N}\p{M}]+/gu)].filter(([word]) => found(word))
  const first = words[0]?.index ?? 0
  const start = first < excerptLength / 3 ? 0 : text.indexOf(' ', first - excerptLength / 3) + 1
  const cut = start + excerptLength < text.length ? text.lastIndexOf(' ', start + excerptLength) : text.length
  const end = cut > start ? cut : Math.min(text.length, start + excerptLength)
  const pieces: Piece[] = start > 0 ? [{ text: '… ', isMark: false }] : []
  let at = start
  for (const { index, 0: word } of words) {
    if (index < at || index + word.length > end) continue
    if (index > at) pieces.push({ text: text.slice(at, index), isMark: false })
    pieces.push({ text: word, isMark: true })
    at = index + word.length
  }
  if (at < end) pieces.push({ text: text.slice(at, end), isMark: false })
  if (end < text.length) pieces.push({ text: ' …', isMark: false })
  return pieces
}
