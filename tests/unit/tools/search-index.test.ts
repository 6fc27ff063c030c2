import { expect, it } from 'vitest'
import { passagesOf } from '../../../src/tools/search-index.mjs'

const page = (main: string) => `<!doctype html><html><body><nav>menu</nav><main>${main}</main></body></html>`

it('parts a page at its headings with an address, in order, with the page’s own words only', () => {
  const html = page(`
    <h1>Why?</h1><p>First <button class="term">words</button>.</p><section class="figure"><h2>moves</h2>12 dB</section>
    <h2 id="do">What to do</h2><p>Stand <b>off</b> the wall, <span class="length-m">2 m</span><span class="length-ft">7 ft</span>.</p><p>Then</p><p>listen.</p>
    <section id="wave"><h2>Wave <span class="figures quiet">λ, m</span></h2><p>Long.</p></section>`)
  expect(passagesOf(html, '/a/')).toEqual([
    { page: 'Why?', heading: '', url: '/a/', text: 'First words.' },
    {
      page: 'Why?',
      heading: 'What to do',
      url: '/a/#do',
      text: 'Stand off the wall, 2 m. Then listen.',
    },
    { page: 'Why?', heading: 'Wave', url: '/a/#wave', text: 'Long.' },
  ])
})

it('finds nothing on a page without a main part', () => {
  expect(passagesOf('<p>bare</p>', '/b/')).toEqual([])
})
