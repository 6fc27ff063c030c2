import { mount } from 'svelte'
import SendPage from './SendPage.svelte'

/** Puts the ways to send the page into a fold of it. */
export function sendPage(target: HTMLElement): void {
  mount(SendPage, { target })
}
