import { stripTypeScriptTypes } from 'node:module'
import { describe, expect, test } from 'vitest'
import { linksIn } from '../../../src/tools/build-languages.mjs'
import { headingsIn } from '../../../src/tools/heading-anchors.mjs'
import { addressIn, languageIn, otherLanguages, ownNameOf } from '../../../src/tools/languages.mjs'
import { messageModule } from '../../../src/tools/message-code.mjs'
import { missingIn } from '../../../src/tools/needed-translations.mjs'
import { messageFaults, pageFaults, translationFaults } from '../../../src/tools/translation-faults.mjs'

const spanish = { code: 'es', addresses: ['/', '/safety/', '/answers/why/'] }

describe('every language of the site', () => {
  test('there is one besides English', () => expect(otherLanguages()).toContain('es'))

  for (const code of otherLanguages()) {
    const language = languageIn(code)

    test(`${code}: nothing is left of what English no longer has, and no message, number, term, link or heading differs`, () => {
      expect(translationFaults(language)).toEqual([])
    })

    test(`${code}: what its pages need is translated; the rest is counted`, () => {
      const missing = missingIn(language)
      const left = missing.filter(({ needed }) => !needed)
      console.info(
        left.map(({ part, all, missing: names }) => `${code} lacks ${names.length} of ${all}: ${part}`).join('\n'),
      )
      expect(missing.filter(({ needed }) => needed)).toEqual([])
    })
  }

  test('a language that says nothing yet is told what its pages need, of messages and of data', () => {
    const missing = missingIn({ messages: {}, data: {}, files: [] })
    const parts = (isNeeded: boolean) => missing.filter(({ needed }) => needed === isNeeded).map(({ part }) => part)
    expect(parts(true)).toEqual(
      expect.arrayContaining(['widgets/walk-round/walk-round', 'layouts/page', 'content/halls', 'content/gear']),
    )
    expect(parts(false)).toEqual(
      expect.arrayContaining(['widgets/van-card/van-card', 'content/embeds', 'content/sources']),
    )
  })

  test('a language that has every lesson needs all the rest', () => {
    const { files } = languageIn('es')
    const lessons = files.filter((file) => file.startsWith('lessons/'))
    const partsNeeded = (some: string[]) =>
      missingIn({ messages: {}, data: {}, files: some })
        .filter(({ needed }) => needed)
        .map(({ part }) => part)
    expect(partsNeeded(lessons)).toEqual(
      expect.arrayContaining(['widgets/van-card/van-card', 'content/embeds', 'content/sources', 'content/pages']),
    )
    expect(partsNeeded(lessons.slice(1))).not.toContain('widgets/van-card/van-card')
  })

  test('its name is its own; a folder that is no language is refused', () => {
    expect(ownNameOf('es')).toBe('Español')
    expect(ownNameOf('en')).toBe('English')
    expect(() => languageIn('xx')).toThrow('content/languages/xx is missing; there is es')
  })
})

describe('links stay in the language where it has the page', () => {
  test('an address with fields and place', () => {
    expect(addressIn(spanish, '/safety/#hearing')).toBe('/es/safety/#hearing')
    expect(addressIn(spanish, '/evidence/')).toBe('/evidence/')
    expect(addressIn(spanish, '/safety')).toBe('/safety')
  })

  test('links of a built page; those that leave say the language; those that say it stay', () => {
    const page = (html: string) => linksIn(spanish, html)
    expect(page('<a href="/">x</a><a class="a > b" href="/safety/#hearing" rel="x">y</a>')).toBe(
      '<a href="/es/">x</a><a class="a > b" href="/es/safety/#hearing" rel="x">y</a>',
    )
    expect(page('<a href="/evidence/#id">x</a>')).toBe('<a href="/evidence/#id" hreflang="en">x</a>')
    expect(page('<a class="language" href="/safety/" hreflang="en" lang="en">English</a>')).toContain('href="/safety/"')
    expect(page('<a href="#why">x</a> <a href="/stills/a.png">y</a> <img src="/safety/">')).toBe(
      '<a href="#why">x</a> <a href="/stills/a.png">y</a> <img src="/safety/">',
    )
    expect(page('<form id="search" action="/safety/"></form>')).toBe('<form id="search" action="/es/safety/"></form>')
  })

  test('headings have the addresses that the site gives them', () => {
    const text =
      '---\ntitle: x\n---\n\n## Guess\n\n```\n## no\n```\n\n### Why *not* `this`, <Term id="sub">sub</Term>?\n\n## Guess\n'
    expect(headingsIn(text)).toEqual([
      { depth: 2, anchor: 'guess' },
      { depth: 3, anchor: 'why-not-this-sub' },
      { depth: 2, anchor: 'guess-1' },
    ])
  })
})

describe('a message in another language', () => {
  const code = (message: string, language = 'es') =>
    messageModule({ key: message }, { partsPath: './parts.ts', other: { code: language, formatsPath: './formats.ts' } })

  /** What the message says, with numbers and plurals by the given language. */
  async function said(message: string, values: Record<string, unknown>, language = 'es') {
    const rules = new Intl.PluralRules(language)
    const number = new Intl.NumberFormat(language)
    Object.assign(globalThis, {
      category: (count: number) => rules.select(count),
      shown: (value: string | number) => (typeof value === 'number' ? number.format(value) : value),
    })
    const text = code(message, language).replace(/^import .*$/gm, '')
    const module = await import(`data:text/javascript,${encodeURIComponent(stripTypeScriptTypes(text))}`)
    return module.key(values)
  }

  test('numbers and plurals are the language’s own', async () => {
    expect(await said('{n, plural, one {# caja} other {# cajas}}', { n: 1 })).toBe('1 caja')
    expect(await said('{n, plural, one {# caja} other {# cajas}}', { n: 2.5 })).toBe('2,5 cajas')
    expect(await said('a {distance}', { distance: 1.5 })).toBe('a 1,5')
    expect(await said('a {distance}', { distance: '1.5 m' })).toBe('a 1.5 m')
    const polish = '{n, plural, =0 {none} one {o #} few {f #} many {m #} other {x #}}'
    expect(await Promise.all([0, 1, 3, 5, 22].map((n) => said(polish, { n }, 'pl')))).toEqual([
      'none',
      'o 1',
      'f 3',
      'm 5',
      'f 22',
    ])
  })

  test('a case that the language has not stops the build', () => {
    expect(() => code('{n, plural, few {#} other {#}}')).toThrow(/"key": .*few/)
    expect(code('{n, plural, many {# de} other {#}}')).toContain("category(n) === 'many'")
  })

  test('it asks for what the English asks', () => {
    const faults = (english: string, own: string) => messageFaults(english, own, 'es')
    expect(faults('{a} by {b}', 'por {b} {a}')).toEqual([])
    expect(faults('{a} by {b}', 'por {a}')).toEqual(['its values are a; English has a, b'])
    expect(faults('see <safety>safety</safety>', 've seguridad')).toEqual(['its tags are none; English has safety'])
    expect(faults('{w, select, front {f} behind {b}}', '{w, select, front {d} detras {t}}')).toHaveLength(1)
    expect(faults('{w, select, front {f} behind {b}}', '{w, select, behind {t} front {d}}')).toEqual([])
    expect(faults('{n, plural, one {box} other {boxes}}', '{n, plural, other {cajas}}')).toEqual([
      '{n, plural} has no one',
    ])
    expect(faults('{n, plural, one {box} other {boxes}}', '{n, plural, =1 {caja} other {cajas}}')).toEqual([])
    expect(faults('{n} boxes', '{n} cajas {n')).toHaveLength(1)
  })

  test('a page has the numbers, terms, links and headings of the English one', () => {
    const english =
      '---\ntitle: x\norder: 1\n---\n\n## Why\n\n<Fact name="a-b" digits={1} /> of [it](/safety/), <Term id="sub" />.\n'
    const own = english.replace('title: x', 'title: y').replace('## Why', '## Por qué').replace('[it]', '[eso]')
    expect(pageFaults(english, own)).toEqual([])
    expect(pageFaults(english, own.replace('a-b', 'a-c'))).toEqual([
      'components that English has not: <Fact name="a-c" digits={1} />',
      'components that only English has: <Fact name="a-b" digits={1} />',
    ])
    expect(pageFaults(english, own.replace('/safety/', '/evidence/'))).toHaveLength(2)
    expect(pageFaults(english, own.replace('## ', '### '))).toHaveLength(2)
    expect(pageFaults(english, own.replace('order: 1\n', ''))).toHaveLength(1)
    expect(pageFaults('<A title="x" caption={1} />', '<A title="y" caption={1} />')).toEqual([])
  })
})
