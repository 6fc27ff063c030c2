/** A piece of a message: plain text, or text between <tag> and </tag> that the page marks up. `Say` shows a list of them. */
export type Part<Tag extends string> = string | { tag: Tag; text: string }

/** Tags of a message that are HTML as they stand; every other tag of a message is a link and needs its address. */
export type PlainTag = 'strong' | 'em' | 'output' | 'cite' | 'code'

/** The message as text alone, for a label or a test. */
export const plainText = (parts: readonly Part<string>[]): string =>
  parts.map((part) => (typeof part === 'string' ? part : part.text)).join('')
