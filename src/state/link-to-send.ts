import { type EnclosedRig, readEnclosure, writeEnclosure } from './enclosure.ts'
import { readSavedRigs, type SavedRig } from './saved-rigs.ts'
import type { SenderWords } from './sender.ts'
import { anchorOf } from './share-link.ts'

/**
 * Longest link that carries rigs, characters: beyond it some mail and chat programs cut a link or do not make one of it, and its
 * QR code is too fine for a telephone (common practice, no source). A rig that needs more goes as a file.
 */
export const longestLink = 2000

/** A link, the rigs that travel in it, and those that are too long for it and go as a file. */
export type LinkToSend = { link: string; rigs: EnclosedRig[]; leftOut: EnclosedRig[] }

/**
 * The address to send to somebody else: it opens at the figure, and without guesses, which are for everyone to make. What came
 * enclosed with the page stays behind.
 *
 * @param address  path and query of the page as it stands
 * @param name     of the figure's link; without one it opens at the page's beginning
 */
export function addressToSend(address: string, name?: string): string {
  const { pathname, searchParams } = new URL(address, 'http://localhost')
  const sent = new URLSearchParams([...searchParams].filter(([key]) => !/^guess(-[a-z]+)?\./.test(key)))
  return `${pathname}${sent.size > 0 ? `?${sent}` : ''}${name ? `#${anchorOf(name)}` : ''}`
}

/** The id to which an address leads, whatever is enclosed with it; '' for none. */
export const anchorIn = (hash: string): string => (hash.startsWith('#with=') ? '' : (hash.slice(1).split('&')[0] ?? ''))

/** An address with something enclosed; as it is for ''. */
export const withEnclosed = (address: string, text: string): string =>
  text === '' ? address : `${address}${address.includes('#') ? '&' : '#'}with=${text}`

/** How links name the rigs that are enclosed with them: by their place. */
export const sentKey = (place: number): string => `sent-${place + 1}`

/** The rigs of what is enclosed with an address, as a figure offers them; none if there are none or they cannot be read. Never throws. */
export function sentRigs(text: string): SavedRig[] {
  const read = text === '' ? '' : readEnclosure(text)
  return typeof read === 'string' ? [] : read.rigs.map((one, place) => ({ key: sentKey(place), ...one }))
}

/** Every rig that a link of this device may name and no other device knows: the kept ones, and those enclosed with its address. */
export const ownRigs = (text: string): SavedRig[] => [...readSavedRigs().rigs, ...sentRigs(text)]

/**
 * The link to a page as it stands: without guesses, with the rigs of the sender's own that it names, and with the sender's words.
 *
 * @param page   address of the page, and its origin, as https://….example
 * @param name   of the figure that it opens at; without one it opens at the page's beginning
 * @param known  what the keys in the address stand for
 */
export function linkToSend(
  page: { address: string; origin: string },
  name: string | undefined,
  from: SenderWords,
  known: readonly SavedRig[],
): LinkToSend {
  const { pathname, searchParams, hash } = new URL(addressToSend(page.address, name), page.origin)
  const carried: SavedRig[] = []
  const params = new URLSearchParams()
  const plain = new URLSearchParams()
  for (const [field, text] of searchParams) {
    const rig = field.endsWith('.rig') ? known.find(({ key }) => key === text) : undefined
    if (!rig) plain.append(field, text)
    else if (!carried.includes(rig)) carried.push(rig)
    params.append(field, rig ? sentKey(carried.indexOf(rig)) : text)
  }
  const rigs = carried.map(({ name: called, rig }) => ({ name: called, rig }))
  const linked = (query: URLSearchParams, enclosed: EnclosedRig[]) =>
    withEnclosed(
      `${page.origin}${pathname}${query.size > 0 ? `?${query}` : ''}${hash}`,
      writeEnclosure({ from, rigs: enclosed }),
    )
  const link = linked(params, rigs)
  if (rigs.length === 0 || link.length <= longestLink) return { link, rigs, leftOut: [] }
  return { link: linked(plain, []), rigs: [], leftOut: rigs }
}
