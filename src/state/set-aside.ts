// What the device had kept, could not be read, and was set aside when something else was kept in its place (setAside in kept-text.ts).

const isAside = (key: string): boolean => /^round-the-back\.[a-z-]+\.unread\.\d+$/.test(key)

/** Names of what is set aside. Never throws. */
export function asideNames(): string[] {
  try {
    return Object.keys(localStorage).filter(isAside).sort()
  } catch {
    return []
  }
}

/** All that is set aside as the text of one file: name → what stood there, to the letter. */
export const asideFile = (): string =>
  JSON.stringify(Object.fromEntries(asideNames().map((name) => [name, localStorage.getItem(name)])), null, 2)

/** Forgets what is set aside. Never throws. */
export function forgetAside(): void {
  for (const name of asideNames()) localStorage.removeItem(name)
}
