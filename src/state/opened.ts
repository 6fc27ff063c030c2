/** Names of the figures whose further settings the reader has left open, kept on this device. */
const key = 'round-the-back.opened'

function names(): string[] {
  try {
    const kept: unknown = JSON.parse(localStorage.getItem(key) ?? '[]')
    return Array.isArray(kept) ? kept.filter((name) => typeof name === 'string') : []
  } catch {
    return []
  }
}

/** Whether the reader has left something open. */
export const isKeptOpen = (name: string): boolean => names().includes(name)

/** Whether the page stands in a frame of another one. */
export const isFramed = (): boolean => globalThis.parent !== globalThis.self

/** Whether a figure's further settings are open when its page opens: where the reader has left them open, but for an answer, which is read in a minute. */
export const opensWide = (name: string): boolean => !document.querySelector('main .answer-page') && isKeptOpen(name)

/** Keeps whether they are open; where nothing can be kept, they are folded the next time. */
export function keepOpen(name: string, isOpen: boolean): void {
  try {
    const others = names().filter((other) => other !== name)
    localStorage.setItem(key, JSON.stringify(isOpen ? [...others, name] : others))
  } catch {
    // Storage blocked or full.
  }
}
