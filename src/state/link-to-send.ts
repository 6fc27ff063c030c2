import { type EnclosedHall, type EnclosedRig, type Enclosure, readEnclosure, writeEnclosure } from './enclosure.ts'
import { type SavedHall, savedHalls } from './saved-halls.ts'
import { type SavedRig, savedRigs } from './saved-rigs.ts'
import type { SenderWords } from './sender.ts'
import { anchorOf } from './share-link.ts'

/**
 * Longest link that carries something, characters: beyond it some mail and chat programs cut a link or do not make one of it, and its
 * QR code is too fine for a telephone (common practice, no source). A rig or a plan that needs more goes as a file.
 */
export const longestLink = 2000

/** Things of the reader's own, or come with the address, that a link may name. */
export type OwnThings = { rigs: SavedRig[]; halls: SavedHall[] }

/** A link, what travels in it, and what is too long for it. */
export type LinkToSend = {
  link: string
  rigs: EnclosedRig[]
  halls: EnclosedHall[]
  hasPlan: boolean
  leftOut: { rigs: EnclosedRig[]; halls: EnclosedHall[]; plan: boolean }
}

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

/** What is enclosed with an address, if it can be read. Never throws. */
function enclosureOf(text: string): Partial<Enclosure> {
  const read = text === '' ? '' : readEnclosure(text)
  return typeof read === 'string' ? {} : read
}

/** The rigs of what is enclosed with an address, as a figure offers them; none if there are none or they cannot be read. Never throws. */
export const sentRigs = (text: string): SavedRig[] =>
  (enclosureOf(text).rigs ?? []).map((one, place) => ({ key: sentKey(place), ...one }))

/** The halls likewise. Never throws. */
export const sentHalls = (text: string): SavedHall[] =>
  (enclosureOf(text).halls ?? []).map((one, place) => ({ key: sentKey(place), ...one }))

/** Every rig that a link of this device may name and no other device knows: the kept ones, and those enclosed with its address. */
export const ownRigs = (text: string): SavedRig[] => [...savedRigs.read().things, ...sentRigs(text)]

/** All of that kind. */
export const ownThings = (text: string): OwnThings => ({
  rigs: ownRigs(text),
  halls: [...savedHalls.read().things, ...sentHalls(text)],
})

/** Which kind of thing a field of a link names. */
const kindOf = (field: string): keyof OwnThings | undefined =>
  field.endsWith('.rig') ? 'rigs' : /\.(hall|other)$/.test(field) ? 'halls' : undefined

/**
 * The link to a page as it stands: without guesses, with the rigs and halls of the sender's own that it names, with a plan, and with the
 * sender's words. What makes it too long stays out: a plan, then rigs, then halls.
 *
 * @param page   address of the page, and its origin, as https://….example
 * @param name   of the figure that it opens at; without one it opens at the page's beginning
 * @param known  what the keys in the address stand for
 * @param plan   that travels along, if there is one
 */
export function linkToSend(
  page: { address: string; origin: string },
  name: string | undefined,
  from: SenderWords,
  known: OwnThings,
  plan?: unknown,
): LinkToSend {
  const { pathname, searchParams, hash } = new URL(addressToSend(page.address, name), page.origin)
  /** The link with things of some kinds alone. */
  const linked = (kinds: readonly (keyof OwnThings)[], withPlan: boolean) => {
    const carried: OwnThings = { rigs: [], halls: [] }
    const query = new URLSearchParams()
    for (const [field, text] of searchParams) {
      const kind = kindOf(field)
      const thing = kind && known[kind].find(({ key }) => key === text)
      if (kind && thing) {
        if (!kinds.includes(kind)) continue
        const list: (SavedRig | SavedHall)[] = carried[kind]
        if (!list.includes(thing)) list.push(thing)
        query.append(field, sentKey(list.indexOf(thing)))
      } else query.append(field, text)
    }
    const rigs = carried.rigs.map(({ name: called, rig }) => ({ name: called, rig }))
    const halls = carried.halls.map(({ name: called, hall }) => ({ name: called, hall }))
    const address = `${page.origin}${pathname}${query.size > 0 ? `?${query}` : ''}${hash}`
    const enclosed = { from, rigs, halls, ...(withPlan && plan !== undefined && { plan }) }
    return { link: withEnclosed(address, writeEnclosure(enclosed)), rigs, halls, hasPlan: 'plan' in enclosed }
  }
  const all = linked(['rigs', 'halls'], true)
  const tries = [all, linked(['rigs', 'halls'], false), linked(['halls'], false), linked([], false)]
  const sent = tries.find(({ link }) => link.length <= longestLink) ?? tries[3] ?? all
  return {
    ...sent,
    leftOut: {
      rigs: sent.rigs.length < all.rigs.length ? all.rigs : [],
      halls: sent.halls.length < all.halls.length ? all.halls : [],
      plan: all.hasPlan && !sent.hasPlan,
    },
  }
}
