// A language that nobody speaks: English with every letter accented, between brackets. A build in it shows which words of the site
// have not gone through a message or through content, because they alone still read as plain English. Plain JavaScript.
import { env } from 'node:process'

/** Whether the site is being built in it: SITE_LANGUAGE=pseudo. */
export const inPseudo = env.SITE_LANGUAGE === 'pseudo'

const plain = 'abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ'
const accented = [...'àƀçďéƒĝĥîĵķļɱñôþɋŕšţûṽŵẋýžÀßÇĎÉƑĜĤÎĴĶĻṀÑÔÞɊŔŠŢÛṼŴẊÝŽ']
const letters = new Map([...plain].map((letter, index) => [letter, accented[index] ?? letter]))

/** A piece of text in the pseudo-language; blanks at its ends stay where they are, text without letters stays as it is. */
export function pseudo(text) {
  const [, before = '', words = '', after = ''] = /^(\s*)(.*?)(\s*)$/s.exec(text) ?? []
  if (!/[a-zA-Z]/.test(words)) return text
  return `${before}⟦${[...words].map((letter) => letters.get(letter) ?? letter).join('')}⟧${after}`
}

/** Properties of data that a reader sees as words. */
const wordsOfData = ['title', 'short', 'description', 'label', 'note']

/** Attributes that hold words, in what authors write into MDX. */
const wordsOfMarkup = ['title', 'label', 'caption', 'alt', 'aria-label']

/** For Vite: what the site imports of messages and of content's data, in the pseudo-language. */
export function pseudoPlugin({ messagesOf }) {
  return {
    name: 'pseudo-language',
    enforce: 'pre',
    load: {
      filter: { id: /\.messages\.ts$|\/src\/pages\/(stills|previews)\// },
      handler(id) {
        if (id.endsWith('.messages.ts')) return messagesOf(id.replace(/\.ts$/, '.json'), pseudo)
        // Stills have no words and take long; the typefaces lack some of the letters of previews.
        return `export const getStaticPaths = () => []; export const GET = () => new Response('')`
      },
    },
    transform: {
      filter: { id: /\/content\/halls\/.*\.json$/ },
      order: 'pre',
      handler: (json) => ({ code: JSON.stringify(translated(JSON.parse(json), wordsOfData)), map: null }),
    },
  }
}

/** A copy of data with the named string properties translated, at any depth. */
function translated(data, names) {
  if (Array.isArray(data)) return data.map((item) => translated(item, names))
  if (typeof data !== 'object' || data === null) return data
  return Object.fromEntries(
    Object.entries(data).map(([name, value]) => [
      name,
      typeof value === 'string' && names.includes(name) ? pseudo(value) : translated(value, names),
    ]),
  )
}

/** A content loader whose entries have the named fields, which are the words a reader sees, in the site's language. */
export function withWords(loader, names) {
  if (!inPseudo) return loader
  const parsed = (parseData) => async (entry) => translated(await parseData(entry), names)
  return { ...loader, load: (context) => loader.load({ ...context, parseData: parsed(context.parseData) }) }
}

/** For remark: the body of a page of content in the pseudo-language. Code and formulas stay. */
export function remarkPseudo() {
  return (tree) => {
    const visit = (node) => {
      if (node.type === 'text') node.value = pseudo(node.value)
      if (typeof node.alt === 'string') node.alt = pseudo(node.alt)
      for (const attribute of node.attributes ?? []) {
        if (typeof attribute.value === 'string' && wordsOfMarkup.includes(attribute.name))
          attribute.value = pseudo(attribute.value)
      }
      for (const child of node.children ?? []) visit(child)
    }
    visit(tree)
  }
}
