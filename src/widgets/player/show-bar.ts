import { mount } from 'svelte'
import PlayerBar from './PlayerBar.svelte'

/** Puts the bar at the foot of the window, once a page. */
export function showBar(): void {
  mount(PlayerBar, { target: document.body })
}
