import * as v from 'valibot'
import { inTurn } from './in-turn.ts'
import { plainWords } from './plain-words.ts'

/** What a sender adds to a link: who sends it, a way to reach them, and a note. Plain text; '' for nothing. */
export type SenderWords = { name: string; reach: string; note: string }

/** Longest text of each, characters as a text field counts them. */
export const longestWords: Readonly<Record<keyof SenderWords, number>> = { name: 60, reach: 80, note: 280 }

export const noWords: SenderWords = { name: '', reach: '', note: '' }

const key = 'round-the-back.sender'
const form = v.object({ name: v.string(), reach: v.string(), note: v.string() })

/** The same, each fit to be shown and no longer than stated. */
export const plainSender = ({ name, reach, note }: SenderWords): SenderWords => ({
  name: plainWords(name, longestWords.name),
  reach: plainWords(reach, longestWords.reach),
  note: plainWords(note, longestWords.note),
})

export const isEmpty = ({ name, reach, note }: SenderWords): boolean => name + reach + note === ''

/** What the device keeps from the last time; nothing where it keeps none, or something that cannot be read. */
export function keptSender(): SenderWords {
  try {
    const read = v.safeParse(form, JSON.parse(localStorage.getItem(key) ?? 'null'))
    return read.success ? plainSender(read.output) : noWords
  } catch {
    return noWords
  }
}

/**
 * Keeps what was changed for the next time; what another tab has changed of the rest stays. Never rejects.
 *
 * @returns  whether it is kept
 */
export async function keepSender(change: Partial<SenderWords>): Promise<boolean> {
  return inTurn(key, () => {
    const text = JSON.stringify(plainSender({ ...keptSender(), ...change }))
    try {
      localStorage.setItem(key, text)
      return localStorage.getItem(key) === text
    } catch {
      return false
    }
  })
}

/** Calls `listener` after another tab has changed it; returns the function that ends it. */
export function onSenderChange(listener: () => void): () => void {
  const elsewhere = (event: StorageEvent) => {
    if (event.key === null || event.key === key) listener()
  }
  addEventListener('storage', elsewhere)
  return () => removeEventListener('storage', elsewhere)
}

const mail = /^[a-z\d][\w.+-]{0,63}@[a-z\d-]+(\.[a-z\d-]+)+$/i
const phone = /^\+?\d[\d ./-]{4,22}\d$/

/** Where a way to reach somebody leads, if all of it is plainly one e-mail address or one telephone number; else it stays text. */
export function reachAddress(reach: string): string | undefined {
  if (mail.test(reach)) return `mailto:${reach}`
  const digits = reach.replace(/[^\d+]/g, '')
  return phone.test(reach) && digits.length >= 6 && digits.length <= 16 ? `tel:${digits}` : undefined
}
