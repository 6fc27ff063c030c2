let hasAsked = false

/**
 * Asks the browser, once a page and only after the reader has kept something of worth, not to clear it away when the device gets short of
 * room. It may ask the reader, or refuse; nothing hangs on the answer.
 */
export function keepForGood(): void {
  if (hasAsked || typeof navigator === 'undefined') return
  hasAsked = true
  navigator.storage?.persist?.().catch(() => undefined)
}
