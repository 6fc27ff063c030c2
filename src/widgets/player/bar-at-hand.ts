import { pageSound } from './page-sound.svelte.ts'

/**
 * For every component that can begin a sound: the bar comes with the first one. It stands apart from the page's sound, because
 * what the bar is made of takes the page itself.
 */
export function barAtHand(): void {
  pageSound.fetchBar ??= () => import('./show-bar.ts').then(({ showBar }) => showBar())
}
