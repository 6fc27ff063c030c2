// Run inside a page of any engine, whatever drives it: each stands by itself and asks for nothing outside.

/** Brings the next sleeping figure into view, its fold open; whether none sleeps any more. */
export function wakesAll(): boolean {
  const asleep = document.querySelector('astro-island[ssr]')
  const fold = asleep?.closest('details')
  if (fold) fold.open = true
  asleep?.firstElementChild?.scrollIntoView({ block: 'center', behavior: 'instant' })
  return asleep === null
}

/** Presses the button in a part of the page whose words begin so; whether it is there. */
export function presses(part: string, words: string): boolean {
  const button = [...document.querySelectorAll<HTMLElement>(`${part} button`)].find(
    (each) => each.checkVisibility() && each.textContent?.trim().startsWith(words),
  )
  button?.click()
  return button !== undefined
}

/** Writes into the field of a part of the page whose label begins so, and leaves it; whether it is there. */
export function writes(part: string, label: string, value: string): boolean {
  const field = [...document.querySelectorAll<HTMLLabelElement>(`${part} label`)].find(
    (each) => each.checkVisibility() && each.textContent?.trim().startsWith(label),
  )?.control
  if (!(field instanceof HTMLInputElement)) return false
  field.focus()
  field.value = value
  field.dispatchEvent(new Event('input', { bubbles: true }))
  field.dispatchEvent(new Event('change', { bubbles: true }))
  field.blur()
  return true
}
