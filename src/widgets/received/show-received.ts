import { mount } from 'svelte'
import { enclosedHere } from '../../state/enclosed-text.ts'
import { type Enclosure, readEnclosure } from '../../state/enclosure.ts'
import { anchorIn } from '../../state/link-to-send.ts'
import { isEmpty, noWords } from '../../state/sender.ts'
import Received from './Received.svelte'

const nothing: Enclosure = { from: noWords, rigs: [] }

/**
 * Shows what came with the address: above the figure that it leads to, else below the page's opening words. A figure in another
 * site's frame shows only that something could not be read.
 *
 * @param later  the change of address, if the page was open before: its figures have taken over the last one, so it opens anew
 */
export function showReceived(later?: Event): void {
  if (later) {
    location.reload()
    return
  }
  const read = readEnclosure(enclosedHere())
  const problem = typeof read === 'string' ? read : ''
  const isFramed = document.querySelector('body > header') === null
  if (isFramed && !problem) return
  const figure = document.getElementById(anchorIn(location.hash))
  const enclosed = typeof read === 'string' ? nothing : read
  // A plan alone is shown by its page.
  if (!problem && isEmpty(enclosed.from) && enclosed.rigs.length === 0 && !enclosed.halls) {
    figure?.scrollIntoView()
    return
  }
  const place = document.createElement('div')
  const start = document.querySelector('main .lede') ?? document.querySelector('main h1, #page-notice')
  if (figure) (figure.closest('astro-island') ?? figure).before(place)
  else start?.after(place)
  mount(Received, { target: place, props: { ...enclosed, problem } })
  if (figure) place.scrollIntoView()
}
