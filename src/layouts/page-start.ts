import { enclosedIn } from '../state/enclosed-text.ts'
import { followOtherTabs, takeLinkedAir } from '../state/preferences.ts'
import { asideNames } from '../state/set-aside.ts'

// What every page does when it opens, with a header or in another site's frame.

const notice = (): HTMLElement | null => document.querySelector('#page-notice')

/** Uses what is fetched only when it is needed; where it cannot be fetched, says so and is false. */
export async function atNeed(use: (parts: typeof import('./at-need.ts')) => unknown): Promise<boolean> {
  try {
    await use(await import('./at-need.ts'))
    return true
  } catch {
    notice()?.replaceChildren(notice()?.dataset.notFetched ?? '')
    return false
  }
}

/** Follows the reader's other tabs, takes over the air of the address, shows what came with it, and says what is set aside. */
export function startPage(): void {
  followOtherTabs()
  const dropped = takeLinkedAir()
  if (dropped.length > 0)
    notice()?.replaceChildren(notice()?.dataset.leftOut?.replace('%', () => dropped.join('; ')) ?? '')
  const arrive = (later?: Event) => enclosedIn(location.hash) && atNeed(({ showReceived }) => showReceived(later))
  arrive()
  addEventListener('hashchange', arrive)
  const line = document.querySelector<HTMLElement>('#set-aside')
  if (line && asideNames().length > 0) atNeed(({ showSetAside }) => showSetAside(line))
}
